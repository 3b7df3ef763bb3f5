#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>
#include <string>
#include <tuple>
#include <utility>

#include "units/parse.hpp"
#include "units/scan_private.hpp"
#include "units/spelling.hpp"

namespace airtally::units {
namespace {

constexpr std::string_view minus_sign = "\u2212";
constexpr std::string_view plus_minus_sign = "\u00b1";
constexpr std::string_view no_break_space = "\u00a0";

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

class Scanner {
 public:
  Scanner(std::string_view text, Dimension dimension) : text_(text), dimension_(dimension) {}

  Scan scan() {
    skip_space();
    if (at_ == text_.size()) {
      fail(0, "{} is empty; write {}, such as \"{}\".", quoted(text_), name_with_article(dimension_),
           example_of(dimension_));
    }
    Scan result;
    result.first = read_part();
    result.joint = read_joint();
    if (result.joint != Joint::none) {
      const std::size_t joint_end = at_;
      skip_space();
      if (at_ == text_.size()) {
        fail(joint_end, "{}: a number is missing behind {}.", quoted(text_),
             result.joint == Joint::range ? "the two dots" : "the sign of the tolerance");
      }
      result.second = read_part();
    }
    if (at_ == text_.size()) return result;
    if (result.joint == Joint::none) {
      fail(at_, "{}: the plus sign is not clear; write a tolerance as \"a ± b\" or \"a +- b\".", quoted(text_));
    }
    fail(at_, "{} has more than one tolerance or range; write either \"a ± b\" or \"a..b\".", quoted(text_));
  }

 private:
  template <typename... Args>
  [[noreturn]] void fail(std::size_t offset, fmt::format_string<Args...> sentence, Args&&... args) const {
    throw UnitError(offset, fmt::format(sentence, std::forward<Args>(args)...));
  }

  std::string_view rest() const { return text_.substr(at_); }

  bool take(std::string_view word) {
    if (!rest().starts_with(word)) return false;
    at_ += word.size();
    return true;
  }

  void skip_space() {
    while (take(" ") || take("\t") || take(no_break_space)) {
    }
  }

  Joint read_joint() {
    if (take("..")) return Joint::range;
    if (take(plus_minus_sign) || take("+-") || take("+/-")) return Joint::tolerance;
    return Joint::none;
  }

  bool at_joint() const {
    for (const std::string_view joint : std::array{std::string_view(".."), plus_minus_sign, std::string_view("+")}) {
      if (rest().starts_with(joint)) return true;
    }
    return false;
  }

  Part read_part() {
    Part part;
    skip_space();
    part.number_at = at_;
    part.number = read_number(part);
    skip_space();
    part.unit_at = at_;
    while (at_ < text_.size() && !at_joint()) ++at_;
    part.unit = text_.substr(part.unit_at, at_ - part.unit_at);
    while (part.unit.ends_with(' ') || part.unit.ends_with('\t')) part.unit.remove_suffix(1);
    if (!part.unit.empty()) check_behind_number(part);
    return part;
  }

  double read_number(Part& part) {
    const bool negative = take("-") || take(minus_sign);
    if (!negative) take("+");
    const std::size_t start = at_;
    while (at_ < text_.size() && is_digit(text_[at_])) ++at_;
    // "20..45": the first of two dots is no decimal point.
    if (rest().starts_with('.') && !rest().starts_with("..")) {
      ++at_;
      while (at_ < text_.size() && is_digit(text_[at_])) ++at_;
    }
    const std::string_view mantissa = text_.substr(start, at_ - start);
    if (mantissa.empty() || mantissa == ".") refuse_non_number(part.number_at, start);
    if (const auto fraction = read_fraction(start)) {
      part.digits = text_.substr(part.number_at, at_ - part.number_at);
      return negative ? -*fraction : *fraction;
    }
    skip_exponent();
    part.digits = text_.substr(part.number_at, at_ - part.number_at);
    const char* const first = text_.data() + start;
    const char* const last = text_.data() + at_;
    double number = 0.0;
    const auto [end, error] = std::from_chars(first, last, number);
    if (error == std::errc::result_out_of_range) refuse_size(part.number_at);
    if (error != std::errc{} || end != last) refuse_non_number(part.number_at, start);
    return negative ? -number : number;
  }

  /// "3/8", or "1 3/8", whose first whole number, from `start` on, has been read; nothing, and nothing read, where what
  /// follows is no fraction.
  std::optional<double> read_fraction(std::size_t start) {
    const auto whole_number = [this](std::size_t from) {
      std::size_t end = from;
      while (end < text_.size() && is_digit(text_[end])) ++end;
      double number = -1.0;  // where there is none
      std::from_chars(text_.data() + from, text_.data() + end, number);
      return std::pair{number, end};
    };
    auto [above, slash] = whole_number(start);
    double whole = 0.0;
    if (slash != at_) return std::nullopt;  // it has decimals
    if (slash < text_.size() && text_[slash] == ' ') {
      whole = above;
      std::tie(above, slash) = whole_number(std::min(text_.find_first_not_of(' ', slash), text_.size()));
    }
    if (above < 0.0 || slash >= text_.size() || text_[slash] != '/') return std::nullopt;
    const auto [below, end] = whole_number(slash + 1);
    if (below < 0.0) return std::nullopt;
    if (below == 0.0 || (whole > 0.0 && above >= below))
      fail(start, "{}: a fraction is written as in \"3/8\" or \"1 3/8\".", quoted(text_));
    at_ = end;
    return whole + above / below;
  }

  void skip_exponent() {
    std::size_t i = at_;
    if (i >= text_.size() || (text_[i] != 'e' && text_[i] != 'E')) return;
    ++i;
    if (i < text_.size() && (text_[i] == '+' || text_[i] == '-')) ++i;
    if (i >= text_.size() || !is_digit(text_[i])) return;
    while (i < text_.size() && is_digit(text_[i])) ++i;
    at_ = i;
  }

  [[noreturn]] void refuse_non_number(std::size_t offset, std::size_t word_at) const {
    const std::string word = lower_case(text_.substr(word_at, 3));
    if (word == "nan" || word == "inf") {
      fail(offset, "{} is not a finite number; write {}, such as \"{}\".", quoted(text_), name_with_article(dimension_),
           example_of(dimension_));
    }
    fail(offset, "{}: a number must stand {}; write {}, such as \"{}\".", quoted(text_),
         offset == 0 ? "in front" : "here", name_with_article(dimension_), example_of(dimension_));
  }

  [[noreturn]] void refuse_size(std::size_t offset) const {
    fail(offset, "{} is too large or too small for a number.", quoted(text_));
  }

  // What may stand behind a number by mistake instead of a unit.
  void check_behind_number(const Part& part) const {
    const std::string_view unit = part.unit;
    if (unit.front() == ',') {
      const std::string digits = std::string(part.digits) + "." + std::string(unit.substr(1));
      const std::size_t group = std::min(unit.find_first_not_of("0123456789", 1), unit.size()) - 1;
      // With a point beside it, the comma can't stand for another.
      const bool pointed = part.digits.find('.') != std::string_view::npos || unit.substr(group + 1).starts_with('.');
      if (group == 3 && !pointed)  // a thousand, or three decimals
        fail(part.unit_at, "{} has a comma; write {} or {}, whichever is meant.", quoted(text_),
             quoted(std::string(part.digits) + std::string(unit.substr(1))), quoted(digits));
      fail(part.unit_at, "{} has a comma; write decimals with a point, as in {}, and thousands without a sign.",
           quoted(text_), quoted(group > 0 && !pointed ? digits : std::string(example_of(dimension_))));
    }
    if (is_digit(unit.front())) {
      fail(part.unit_at, "{} has two numbers one behind the other; write one number and its unit, such as \"{}\".",
           quoted(text_), example_of(dimension_));
    }
    if (unit.starts_with("-") || unit.starts_with(minus_sign) || unit.starts_with("\u2013")) {
      fail(part.unit_at,
           "{}: a dash between two numbers is not clear; write a range as \"a..b\" and a tolerance as "
           "\"a ± b\".",
           quoted(text_));
    }
  }

  std::string_view text_;
  Dimension dimension_;
  std::size_t at_ = 0;
};

}  // namespace

Scan scan(std::string_view text, Dimension dimension) { return Scanner(text, dimension).scan(); }

}  // namespace airtally::units
