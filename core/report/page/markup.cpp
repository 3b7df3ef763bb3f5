#include "report/page/markup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <utility>

#include "errors.hpp"
#include "report/width.hpp"

namespace airtally::report::page {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";

/// The code point at the front of `text` and its length in bytes; length 0 where the bytes are no UTF-8.
struct Sign {
  char32_t code = 0;
  std::size_t bytes = 0;
};

Sign front(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return {first, 1};
  const std::size_t bytes = first >= 0xF0 && first < 0xF5 ? 4 : first >= 0xE0 ? 3 : first >= 0xC2 ? 2 : 0;
  if (bytes == 0 || first >= 0xF5 || text.size() < bytes) return {};
  char32_t code = first & (0xFFU >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return {};
    code = code << 6 | (byte(i) & 0x3FU);
  }
  constexpr char32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  if (code < least[bytes] || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) return {};
  return {code, bytes};
}

/// What commands or misleads, and code points that are no characters.
bool harmful(char32_t code) { return commands(code) || (code & 0xFFFEU) == 0xFFFEU; }

}  // namespace

std::string harmless(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const Sign sign = front(text);
    if (sign.bytes == 0 || harmful(sign.code))
      out += replacement;
    else
      out += text.substr(0, sign.bytes);
    text.remove_prefix(std::max<std::size_t>(sign.bytes, 1));
  }
  return out;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : harmless(text)) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else if (c == '\'')
      out += "&#39;";
    else
      out += c;
  }
  return out;
}

std::string in_script(std::string_view json) {
  std::string out;
  for (std::size_t i = 0; i < json.size(); ++i) {
    const char c = json[i];
    if (c == '<' || c == '>' || c == '&')
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
    else if (json.substr(i, 3) == "\xE2\x80\xA8" || json.substr(i, 3) == "\xE2\x80\xA9")
      out += json[i + 2] == '\xA8' ? "\\u2028" : "\\u2029", i += 2;
    else
      out += c;
  }
  return out;
}

void Markup::start(std::string_view tag, const Attributes& attributes) {
  out_ += '<';
  out_ += tag;
  for (const Attribute& attribute : attributes) {
    out_ += ' ';
    out_ += attribute.name;
    out_ += "=\"" + escaped(attribute.value) + '"';
  }
}

Markup& Markup::open(std::string_view tag, const Attributes& attributes) {
  start(tag, attributes);
  out_ += '>';
  open_.emplace_back(tag);
  return *this;
}

Markup& Markup::close() {
  if (open_.empty()) throw std::logic_error("Markup: nothing is open");
  out_ += "</" + open_.back() + '>';
  open_.pop_back();
  return *this;
}

Markup& Markup::text(std::string_view text) {
  out_ += escaped(text);
  return *this;
}

Markup& Markup::leaf(std::string_view tag, const Attributes& attributes) {
  start(tag, attributes);
  out_ += "/>";
  return *this;
}

Markup& Markup::element(std::string_view tag, std::string_view content, const Attributes& attributes) {
  return open(tag, attributes).text(content).close();
}

Markup& Markup::raw(std::string_view trusted) {
  out_ += trusted;
  return *this;
}

std::string Markup::take() {
  if (!open_.empty()) throw std::logic_error("Markup: <" + open_.back() + "> is still open");
  return std::move(out_);
}

std::string number(double value, int decimals) {
  if (!std::isfinite(value)) throw DomainError("page: a coordinate is not a finite number.");
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::string exact(double value) {
  if (!std::isfinite(value)) throw DomainError("page: a number is not finite.");
  return fmt::format("{}", value);
}

}  // namespace airtally::report::page
