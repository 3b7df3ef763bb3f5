#include "report/said_in.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "units/show.hpp"

namespace airtally::report {
namespace {

constexpr std::string_view kilopascals = " kPa";

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// Where the number begins that ends at `end`; `end` where none does.
std::size_t number_before(std::string_view text, std::size_t end) {
  std::size_t from = end;
  while (from > 0 && (is_digit(text[from - 1]) || text[from - 1] == '.')) --from;
  if (from < end && from > 0 && text[from - 1] == '-') --from;
  return from > 0 && is_letter(text[from - 1]) ? end : from;  // as in "e5", which is no number
}

/// "12.3", which is in kPa, in another unit; empty where it is no number.
std::string converted(std::string_view number, const units::Unit& unit) {
  double kilo = 0.0;
  const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), kilo);
  if (error != std::errc() || end != number.data() + number.size()) return "";
  const std::size_t point = number.find('.');
  const double decimals = point == std::string_view::npos ? 0.0 : static_cast<double>(number.size() - point - 1);
  const double step = units::from_si(1e3 * std::pow(10.0, -decimals), unit);
  constexpr double rounding = 1e-9, most = 12.0;  // of the logarithm; digits that show() may be asked for
  const double kept = std::clamp(std::floor(-std::log10(step) + rounding), 0.0, most);
  return units::show(1e3 * kilo, unit, static_cast<int>(kept));
}

}  // namespace

std::string said_in(const Look& look, std::string_view sentence) {
  if (look.vacuum->symbol == "kPa") return std::string(sentence);
  std::string out;
  char quote = 0;
  for (std::size_t at = 0; at < sentence.size(); ++at) {
    const char c = sentence[at];
    const char next = at + 1 < sentence.size() ? sentence[at + 1] : ' ', last = at > 0 ? sentence[at - 1] : ' ';
    const bool apostrophe = is_letter(last) || is_digit(last);  // as in "isn't", where no quote is open
    if (quote == 0 && (c == '"' || c == '\'') && !apostrophe)
      quote = c;
    else if (quote == c && !is_letter(next))
      quote = 0;
    if (quote == 0 && sentence.substr(at).starts_with(kilopascals)) {
      const char behind = at + kilopascals.size() < sentence.size() ? sentence[at + kilopascals.size()] : ' ';
      const std::size_t from = number_before(sentence, at);
      const std::string text = is_letter(behind) ? "" : converted(sentence.substr(from, at - from), *look.vacuum);
      if (!text.empty()) {
        out.resize(out.size() - (at - from));
        out += text;
        at += kilopascals.size() - 1;
        continue;
      }
    }
    out += c;
  }
  return out;
}

}  // namespace airtally::report
