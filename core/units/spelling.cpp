#include "units/spelling.hpp"

#include <array>
#include <utility>

namespace airtally::units {
namespace {

// Characters outside ASCII that people type or paste, and what they stand for.
constexpr std::array<std::pair<std::string_view, std::string_view>, 10> stand_for{{
    {"\u00b5", "u"},     // micro sign
    {"\u03bc", "u"},     // Greek small mu
    {"\u00b0", "deg"},   // degree sign
    {"\u00ba", "deg"},   // masculine ordinal, next to it on many keyboards
    {"\u2103", "degC"},  // degree Celsius in one character
    {"\u00b2", "2"},     // superscript two
    {"\u00b3", "3"},     // superscript three
    {"\u00b7", " "},     // middle dot
    {"\u22c5", " "},     // dot operator
    {"\u00a0", " "},     // no-break space
}};

std::string to_ascii(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    bool found = false;
    for (const auto& [from, to] : stand_for) {
      if (!text.starts_with(from)) continue;
      out += to;
      text.remove_prefix(from.size());
      found = true;
      break;
    }
    if (found) continue;
    out += text.front();
    text.remove_prefix(1);
  }
  return out;
}

constexpr bool is_gap(char c) { return c == ' ' || c == '\t' || c == '*' || c == '.'; }

}  // namespace

std::string normal_form(std::string_view text) {
  std::string out;
  bool gap = false;
  for (const char c : to_ascii(text)) {
    if (c == '^') continue;
    if (is_gap(c) || c == '(' || c == ')') {
      gap = true;
      continue;
    }
    if (gap && !out.empty() && c != '/' && out.back() != '/') out += ' ';
    gap = false;
    out += c;
  }
  return out;
}

std::string lower_case(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

std::string quoted(std::string_view text) {
  constexpr std::size_t longest = 60;
  const bool cut = text.size() > longest;
  if (cut) {
    text = text.substr(0, longest);
    // Bytes 10xxxxxx go on with a character that began earlier: don't leave half of one.
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U) text.remove_suffix(1);
    if (!text.empty() && static_cast<unsigned char>(text.back()) >= 0xC0U) text.remove_suffix(1);
  }
  std::string out = "\"";
  for (const char c : text) out += (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) ? '?' : c;
  return out + (cut ? "...\"" : "\"");
}

}  // namespace airtally::units
