#include "read/stray.hpp"

#include <algorithm>
#include <cctype>
#include <string>

namespace airtally::read {
namespace {

/// Goes through TOML as far as it takes to know where a quote opens a text.
class Scan {
 public:
  explicit Scan(std::string_view text) : text_(text), i_(text.starts_with("\xEF\xBB\xBF") ? 3 : 0) {}

  Stray find() {
    while (i_ < text_.size()) {
      const char c = text_[i_];
      if (beyond_ascii(c)) return is_utf8() ? Stray{i_} : Stray{};
      if (c == '#') {
        i_ = std::min(text_.find('\n', i_), text_.size());
      } else if ((c == '"' || c == '\'') && may_begin()) {
        if (!skip_text(c)) return {i_, true};
      } else {
        sign(c);
        ++i_;
      }
    }
    return {};
  }

 private:
  static bool beyond_ascii(char c) { return static_cast<unsigned char>(c) >= 0x80; }

  bool is_utf8() const {
    const auto byte = static_cast<unsigned char>(text_[i_]);
    return byte >= 0xC2 && byte <= 0xF4 && i_ + 1 < text_.size() &&
           (static_cast<unsigned char>(text_[i_ + 1]) & 0xC0U) == 0x80U;
  }

  /// Whether a key or a value may begin here.
  bool may_begin() const { return std::string_view("\n=[{,.").find(before_) != std::string_view::npos; }

  /// Over a text in quotes; false at a character that can't be read in it.
  bool skip_text(char quote) {
    const bool is_long = text_.substr(i_, 3) == std::string(3, quote);
    const std::string_view end = text_.substr(i_, is_long ? 3 : 1);
    i_ += end.size();
    while (i_ < text_.size() && text_.substr(i_, end.size()) != end) {
      if (!is_long && text_[i_] == '\n') break;  // left open: the parser says so
      const bool escape = quote == '"' && text_[i_] == '\\';
      if (escape && is_long && i_ + 1 < text_.size() && std::isspace(static_cast<unsigned char>(text_[i_ + 1])) != 0) {
        i_ = std::min(text_.find_first_not_of(" \t\r\n", i_ + 1), text_.size());
        if (i_ < text_.size() && beyond_ascii(text_[i_])) return false;
      } else if (escape && i_ + 1 < text_.size() && beyond_ascii(text_[i_ + 1])) {
        ++i_;
        return false;
      } else {
        i_ += escape ? 2 : 1;
      }
    }
    i_ += end.size();
    while (is_long && i_ < text_.size() && text_[i_] == quote) ++i_;  // up to two more quotes belong to the text
    before_ = quote;
    return true;
  }

  /// Takes note of one sign outside texts; one that has no meaning where it stands is part of a bare word.
  void sign(char c) {
    if (c == ' ' || c == '\t' || c == '\r') return;
    const bool begins = may_begin();
    before_ = c;
    if (c == '\n') {
      if (open_.empty()) in_value_ = false;
    } else if (c == '=' && !in_value_) {
      in_value_ = true;
    } else if (c == '[' && begins) {
      if (in_value_) open_ += c;  // else the name of a table
    } else if (c == '{' && begins && in_value_) {
      open_ += c;
      in_value_ = false;
    } else if (c == ',' && !open_.empty()) {
      in_value_ = open_.back() == '[';
    } else if ((c == ']' || c == '}') && !open_.empty()) {
      open_.pop_back();
      in_value_ = true;
    } else if (!(c == '.' && !in_value_)) {
      before_ = 'x';
    }
  }

  std::string_view text_;
  std::size_t i_;
  char before_ = '\n';     // the last sign that is no blank
  bool in_value_ = false;  // behind the = of a key, or in a list
  std::string open_;       // brackets of lists and inline tables around here
};

}  // namespace

Stray stray_in(std::string_view text) { return Scan(text).find(); }

}  // namespace airtally::read
