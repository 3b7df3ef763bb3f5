// The half of TableReader that reads quantities.
#include <fmt/format.h>

#include "read/table_reader_private.hpp"
#include "read/toml_file_private.hpp"
#include "units/parse.hpp"
#include "units/spelling.hpp"

namespace airtally::read {
namespace {

// An end of a range written as "0.01 mm" may be one rounding off the limit.
constexpr double rounding = 1e-12;

bool inside(double value, const Limits& limits) {
  const double slack = rounding * std::max(std::abs(limits.low), std::abs(limits.high));
  const double low_slack = std::min(slack, rounding * std::abs(limits.low));
  return value >= limits.low - low_slack && value <= limits.high + slack;
}

std::string example(const Limits& limits) {
  const std::string_view text = limits.example.empty() ? units::example_of(limits.dimension) : limits.example;
  return limits.dimension == Dimension::number ? std::string(text) : fmt::format("\"{}\"", text);
}

/// Whether a text is a number alone where the usual example of its dimension would mislead.
bool bare_with_own_example(const std::string& text, const Limits& limits) {
  if (limits.example.empty()) return false;
  try {
    units::parse(text, Dimension::number);
    return text.find('%') == std::string::npos;
  } catch (const units::UnitError&) {
    return false;
  }
}

/// Whether what is outside can hardly be a slip of the unit: a ratio ("1 %" for 1 would be a strange guess), or a
/// pressure or length so near the limit that a thousandth of it would be as strange.
bool near_limit(const Quantity& quantity, const Limits& limits) {
  constexpr double near = 3.0;
  if (limits.dimension == Dimension::number) return true;
  if (limits.dimension != Dimension::pressure && limits.dimension != Dimension::length) return false;
  return quantity.value > 0.0 && quantity.value < near * limits.high && near * quantity.value > limits.low;
}

/// The limits in the unit of a text whose unit belongs to another family, as in " (0 inHg .. 29.92 inHg)".
std::string as_typed(const std::string& written, const Limits& limits) {
  const auto both = units::range_in_its_unit(written, limits.dimension, limits.low, limits.high);
  return both ? fmt::format(" ({})", *both) : std::string();
}

}  // namespace

std::optional<Quantity> TableReader::quantity(std::string_view key, const Limits& limits) {
  const toml::node* node = take(key);
  return node != nullptr ? read(*node, path_of(key), limits) : std::nullopt;
}

double TableReader::single(std::string_view key, const Quantity& quantity) {
  if (!quantity.is_exact()) complain(key, fmt::format("{} must be a single value, without tolerance or range.", key));
  return quantity.value;
}

std::optional<double> TableReader::single(std::string_view key, const Limits& limits) {
  const auto quantity = this->quantity(key, limits);
  return quantity ? std::optional(single(key, *quantity)) : std::nullopt;
}

Quantity TableReader::needed(std::string_view key, const Limits& limits) {
  if (!has(key)) {
    know(key);
    complain_here(fmt::format("needs '{0}', such as {1} = {2}.", path_of(key), key, example(limits)));
    return {};
  }
  return quantity(key, limits).value_or(Quantity{});
}

Quantity TableReader::quantity_or(std::string_view key, const Limits& limits, Quantity fallback,
                                  std::string_view words) {
  if (!has(key)) {
    know(key);
    assume(fmt::format("{} not given: {}", key, words));
    return fallback;
  }
  return quantity(key, limits).value_or(fallback);
}

std::optional<Quantity> TableReader::read(const toml::node& node, const std::string& path, const Limits& limits) {
  if (const auto* text = node.as_string()) {
    try {
      return within(node, path, limits, text->get(), units::parse(text->get(), limits.dimension));
    } catch (const units::UnitError& error) {
      complain_at(node, bare_with_own_example(text->get(), limits)
                            ? fmt::format("{} = {} is a bare number; say its unit, such as {}.", path,
                                          units::quoted(text->get()), example(limits))
                            : fmt::format("{} = {}", path, error.what()));
      return std::nullopt;
    }
  }
  const auto number = node.value<double>();
  if (!node.is_number() || !number) {
    complain_at(node, fmt::format("{} must be {}, such as {}.", path, units::name_with_article(limits.dimension),
                                  example(limits)));
    return std::nullopt;
  }
  if (!std::isfinite(*number)) {
    complain_at(node, fmt::format("{} = {} is not a finite number.", path, *number));
    return std::nullopt;
  }
  if (limits.dimension == Dimension::number) return within(node, path, limits, fmt::format("{}", *number), *number);
  complain_at(node, fmt::format("{} = {} is a bare number; say its unit between quotes, such as {}.", path, *number,
                                example(limits)));
  return std::nullopt;
}

std::optional<Quantity> TableReader::within(const toml::node& node, const std::string& path, const Limits& limits,
                                            const std::string& written, const Quantity& quantity) {
  if (inside(quantity.low, limits) && inside(quantity.high, limits)) {
    Quantity bounded = quantity;
    bounded.least = limits.low;
    bounded.most = limits.high;
    return bounded;
  }
  const auto meant = near_limit(quantity, limits)
                         ? std::nullopt
                         : units::same_number_within(written, limits.dimension, limits.low, limits.high);
  const bool minus = limits.dimension == Dimension::pressure && quantity.is_exact() && quantity.value < 0.0 &&
                     limits.high > 90e3 && inside(-quantity.value, limits);
  complain_at(node,
              fmt::format("{} = {} {} {}{}.{}", path, written, quantity.is_exact() ? "is outside" : "reaches outside",
                          limits.words, minus || meant ? std::string() : as_typed(written, limits),
                          minus   ? " Vacuum is counted upwards: leave out the minus."
                          : meant ? fmt::format(" Did you mean {}?", *meant)
                                  : ""));
  return std::nullopt;
}

std::optional<std::vector<std::pair<Quantity, Quantity>>> TableReader::pairs(std::string_view key, const Limits& first,
                                                                             const Limits& second) {
  const toml::node* node = take(key);
  if (node == nullptr) return std::nullopt;
  const std::string wanted = fmt::format("must be a list of pairs, such as {} = [[{}, {}], ...].", path_of(key),
                                         example(first), example(second));
  const auto* array = node->as_array();
  if (array == nullptr) {
    complain_at(*node, fmt::format("{} {}", path_of(key), wanted));
    return std::nullopt;
  }
  std::vector<std::pair<Quantity, Quantity>> result;
  std::size_t number = 0;
  for (const toml::node& item : *array) {
    const std::string path = fmt::format("{}[{}]", path_of(key), ++number);
    const auto* pair = item.as_array();
    if (pair == nullptr || pair->size() != 2) {
      complain_at(item, fmt::format("{} is not a pair: {} {}", path, path_of(key), wanted));
      continue;
    }
    const auto a = read(*pair->get(0), path, first);
    const auto b = read(*pair->get(1), path, second);
    if (a && b) result.emplace_back(*a, *b);
  }
  if (result.size() != array->size()) return std::nullopt;
  return result;
}

}  // namespace airtally::read
