#include "report/width.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>

namespace airtally::report {
namespace {

struct Range {
  std::uint32_t first, last;
};

constexpr std::array zero_width{
    Range{0x300, 0x36f},   Range{0x483, 0x489},   Range{0x591, 0x5bd},   Range{0x610, 0x61a},   Range{0x64b, 0x65f},
    Range{0x200b, 0x200f}, Range{0x20d0, 0x20ff}, Range{0xfe00, 0xfe0f}, Range{0xfe20, 0xfe2f}, Range{0xfeff, 0xfeff}};
constexpr std::array double_width{
    Range{0x1100, 0x115f},   Range{0x2e80, 0x303e},   Range{0x3041, 0x33ff},   Range{0x3400, 0x4dbf},
    Range{0x4e00, 0x9fff},   Range{0xa000, 0xa4cf},   Range{0xac00, 0xd7a3},   Range{0xf900, 0xfaff},
    Range{0xfe30, 0xfe6f},   Range{0xff00, 0xff60},   Range{0xffe0, 0xffe6},   Range{0x1f300, 0x1f64f},
    Range{0x1f680, 0x1f6ff}, Range{0x1f900, 0x1f9ff}, Range{0x20000, 0x3fffd},
};

/// What commands a terminal or misleads the eye: C0 and C1 controls; marks that turn the direction of what follows
/// (Unicode's Bidi_Control) or end its line; signs of no width that make two names look alike; tags.
constexpr std::array commanding{Range{0x00, 0x1f},     Range{0x7f, 0x9f},     Range{0x61c, 0x61c},
                                Range{0x200b, 0x200b}, Range{0x200e, 0x200f}, Range{0x2028, 0x202e},
                                Range{0x2060, 0x206f}, Range{0xfeff, 0xfeff}, Range{0xe0000, 0xe007f}};

template <std::size_t n>
bool in(const std::array<Range, n>& ranges, std::uint32_t c) {
  for (const Range& r : ranges)
    if (c >= r.first && c <= r.last) return true;
  return false;
}

/// One sign of a text: its bytes and the columns it takes.
struct Sign {
  std::size_t bytes = 1;
  std::size_t columns = 1;
  std::uint32_t code = 0xfffd;
};

Sign sign_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(at);
  const std::size_t length = lead < 0x80 ? 1 : lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : lead >= 0xc0 ? 2 : 0;
  if (length == 1) return {1, 1, lead};
  if (length == 0 || at + length > text.size()) return {};
  std::uint32_t code = lead & (0xffU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(at + i) & 0xc0U) != 0x80U) return {};
    code = (code << 6U) | (byte(at + i) & 0x3fU);
  }
  return {length, in(zero_width, code) ? 0U : in(double_width, code) ? 2U : 1U, code};
}

/// Bytes of the longest beginning that is at most `columns` wide.
std::size_t beginning(std::string_view text, std::size_t columns) {
  std::size_t used = 0, at = 0;
  while (at < text.size()) {
    const Sign sign = sign_at(text, at);
    if (used + sign.columns > columns) break;
    used += sign.columns;
    at += sign.bytes;
  }
  return at;
}

/// Byte at which the longest ending that is at most `columns` wide starts.
std::size_t ending(std::string_view text, std::size_t columns) {
  const std::size_t all = width(text);
  std::size_t skipped = 0, at = 0;
  while (at < text.size()) {
    const Sign sign = sign_at(text, at);
    if (all - skipped <= columns && sign.columns > 0) break;
    skipped += sign.columns;
    at += sign.bytes;
  }
  return at;
}

}  // namespace

std::size_t width(std::string_view text) {
  std::size_t columns = 0;
  for (std::size_t at = 0; at < text.size();) {
    const Sign sign = sign_at(text, at);
    columns += sign.columns;
    at += sign.bytes;
  }
  return columns;
}

bool commands(std::uint32_t code) { return in(commanding, code); }

std::string clean(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const Sign sign = sign_at(text, at);
    if (in(commanding, sign.code) || (sign.bytes == 1 && sign.code == 0xfffd))
      out += '?';
    else
      out += text.substr(at, sign.bytes);
    at += sign.bytes;
  }
  return out;
}

std::string escaped(std::string_view json) {
  std::string out;
  out.reserve(json.size());
  for (std::size_t at = 0; at < json.size();) {
    const Sign sign = sign_at(json, at);
    if (sign.code < 0x7f || !in(commanding, sign.code)) {
      out += json.substr(at, sign.bytes);
    } else if (sign.code < 0x10000) {
      out += fmt::format("\\u{:04x}", sign.code);
    } else {  // beyond four digits JSON writes two halves, as UTF-16 does
      const std::uint32_t rest = sign.code - 0x10000;
      out += fmt::format("\\u{:04x}\\u{:04x}", 0xd800 + (rest >> 10U), 0xdc00 + (rest & 0x3ffU));
    }
    at += sign.bytes;
  }
  return out;
}

std::string cut(std::string_view text, std::size_t columns, std::string_view mark) {
  if (width(text) <= columns) return std::string(text);
  const std::size_t room = columns - std::min(columns, width(mark));
  const std::size_t tail = room * 2 / 5;
  const std::string_view head = text.substr(0, beginning(text, room - tail));
  return std::string(head) + std::string(mark) + std::string(text.substr(ending(text, tail)));
}

std::string pad_right(std::string_view text, std::size_t columns) {
  const std::size_t own = width(text);
  return std::string(text) + std::string(own < columns ? columns - own : 0, ' ');
}

std::string pad_left(std::string_view text, std::size_t columns) {
  const std::size_t own = width(text);
  return std::string(own < columns ? columns - own : 0, ' ') + std::string(text);
}

std::vector<std::string> wrap(std::string_view text, std::size_t columns, std::size_t indent) {
  std::vector<std::string> lines;
  std::string line;
  bool fresh = true;
  const auto finish = [&] {
    lines.push_back(line);
    line.assign(indent, ' ');
    fresh = true;
  };
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t space = std::min(text.find(' ', at), text.size());
    std::string_view word = text.substr(at, space - at);
    at = space + 1;
    if (word.empty()) continue;
    if (!fresh && width(line) + 1 + width(word) > columns) finish();
    while (width(line) + width(word) > columns && width(line) < columns) {
      const std::size_t bytes = beginning(word, columns - width(line));
      if (bytes == 0) break;
      line += word.substr(0, bytes);
      word.remove_prefix(bytes);
      finish();
    }
    if (word.empty()) continue;
    if (!fresh) line += ' ';
    line += word;
    fresh = false;
  }
  if (!fresh || lines.empty()) lines.push_back(line);
  return lines;
}

std::string paragraph(std::string_view text, std::size_t columns, std::size_t indent) {
  std::string out;
  for (const std::string& line : wrap(text, columns, indent)) out += line + '\n';
  return out;
}

}  // namespace airtally::report
