#include "grid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

#include "common.hpp"
#include "errors.hpp"
#include "units/unit.hpp"
#include "values.hpp"

namespace airtally::cli {
namespace {

constexpr std::size_t most_points = 1'000'000;

[[noreturn]] void refuse(const std::string& place, const std::string& sentence) {
  throw BadInput(Position{place, 0, 0}, sentence);
}

/// A number at the start of a text, and what follows it.
std::optional<std::pair<double, std::string>> leading_number(const std::string& text) {
  double number = 0.0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
  if (read.ec != std::errc() || !std::isfinite(number)) return std::nullopt;
  return std::pair(number, trimmed_text(std::string(read.ptr, text.data() + text.size())));
}

/// A number of the one unit as a number of the other; nothing where they do not measure the same.
std::optional<double> converted(double number, const std::string& unit, const std::string& other) {
  for (const units::Unit& from : units::all_units()) {
    if (units::find_unit(unit, from.dimension) != &from) continue;
    if (const units::Unit* to = units::find_unit(other, from.dimension))
      return units::from_si(units::to_si(number, from), *to);
  }
  return std::nullopt;
}

std::vector<std::string> spread(const std::string& place, const std::string& range, const std::string& count_text) {
  const bool log = count_text.ends_with("log");
  const std::size_t count = whole_number(trimmed_text(count_text.substr(0, count_text.size() - (log ? 3 : 0))),
                                         place + ": the number of values", 2);
  if (count > most_points)
    refuse(place, fmt::format("{} values are too many; up to {} are allowed.", count, most_points));
  const std::size_t dots = range.find("..");
  auto low = leading_number(trimmed_text(range.substr(0, dots)));
  const auto high = leading_number(trimmed_text(range.substr(dots + 2)));
  // "0.4" before the dots leaves the dots to the number: from_chars would read "0.4." no further than the digits.
  if (!low || !high) refuse(place, "write the ends as numbers with one unit behind the second, as in 0.4..2 mm:9.");
  if (!low->second.empty() && low->second != high->second) {
    const auto number = converted(low->first, low->second, high->second);
    if (!number)
      refuse(place, fmt::format("both ends need units of one kind, but the first has '{}' and the second '{}'.",
                                low->second, high->second));
    low->first = *number;
  }
  if (log && (low->first <= 0.0 || high->first <= 0.0)) refuse(place, "equal factors (log) need ends above zero.");
  std::vector<std::string> values;
  for (std::size_t k = 0; k < count; ++k) {
    const double part = static_cast<double>(k) / static_cast<double>(count - 1);
    const double value = k + 1 == count ? high->first
                         : log          ? low->first * std::pow(high->first / low->first, part)
                                        : low->first + part * (high->first - low->first);
    values.push_back(trimmed_text(fmt::format("{:.12g} {}", value, high->second)));
  }
  return values;
}

}  // namespace

Sweep sweep_of(const std::string& text) {
  const std::string place = "--sweep '" + text + "'";
  const std::size_t equals = text.find('=');
  Sweep sweep{text, trimmed_text(text.substr(0, equals)), {}};
  const std::string right = equals == std::string::npos ? "" : trimmed_text(text.substr(equals + 1));
  if (sweep.path.empty() || right.empty())
    refuse(place, "write a name and its values, such as 'nozzle.bore=0.4..2 mm:9' or 'nozzle.bore=0.4 mm, 1 mm'.");
  const std::size_t colon = right.rfind(':');
  if (right.find("..") != std::string::npos && colon == std::string::npos)
    refuse(place, "say behind a colon how many values, as in 0.4..2 mm:9.");
  if (colon != std::string::npos && right.find("..") != std::string::npos) {
    sweep.values = spread(place, trimmed_text(right.substr(0, colon)), trimmed_text(right.substr(colon + 1)));
    return sweep;
  }
  for (std::size_t begin = 0; begin <= right.size();) {
    const std::size_t end = std::min(right.find(',', begin), right.size());
    sweep.values.push_back(trimmed_text(right.substr(begin, end - begin)));
    if (sweep.values.back().empty()) refuse(place, "there is nothing between two commas.");
    begin = end + 1;
  }
  return sweep;
}

std::vector<std::vector<std::string>> combinations(const std::vector<Sweep>& sweeps, const std::string& shard) {
  std::size_t first = 1, step = 1, all = 1;
  if (!shard.empty()) {
    const std::size_t slash = shard.find('/');
    if (slash == std::string::npos) refuse("", "--shard: write which of how many, such as 3/8.");
    first = whole_number(trimmed_text(shard.substr(0, slash)), "--shard", 1);
    step = whole_number(trimmed_text(shard.substr(slash + 1)), "--shard", 1, most_points);
    if (first > step) refuse("", fmt::format("--shard: there is no part {} of {}.", first, step));
  }
  for (const Sweep& sweep : sweeps) {
    if (sweep.values.size() > most_points / all)
      refuse("--sweep", fmt::format("more than {} combinations are too many.", most_points));
    all *= sweep.values.size();
  }
  std::vector<std::vector<std::string>> points;
  for (std::size_t n = first - 1; n < all; n += step) {
    std::vector<std::string> point(sweeps.size());
    std::size_t rest = n;
    for (std::size_t k = sweeps.size(); k-- > 0; rest /= sweeps[k].values.size())
      point[k] = sweeps[k].values[rest % sweeps[k].values.size()];
    points.push_back(std::move(point));
  }
  return points;
}

}  // namespace airtally::cli
