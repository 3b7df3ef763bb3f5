#include "report/safe_side.hpp"

#include <algorithm>
#include <cmath>

#include "units/parse.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

constexpr int digits = 3;
constexpr double same = 1e-9;  // of the figure: what binary fractions make of a round number is no reason to move it

enum class Side { below, above };

bool on_side(double shown, double si, Side side) {
  const double slack = same * std::abs(si);
  return side == Side::below ? shown <= si + slack : shown >= si - slack;
}

/// `text`, which shows `si`, or what `show` makes of the next step to the safe side; `step` is one of the last digit,
/// in the unit of the text.
template <typename Show>
std::string moved(double si, units::Dimension dimension, const std::string& text, Side side, double step, Show show) {
  if (si == 0.0 || on_side(units::parse(text, dimension).value, si, side)) return text;
  const units::Unit& unit = *units::find_unit(text.substr(text.find(' ') + 1), dimension);
  const double steps = units::from_si(si, unit) / step;
  return show(units::to_si(step * (side == Side::below ? std::floor(steps) : std::ceil(steps)), unit));
}

double last_digit(double si, const std::string& text, units::Dimension dimension) {
  const units::Unit& unit = *units::find_unit(text.substr(text.find(' ') + 1), dimension);
  return std::pow(10.0, std::floor(std::log10(std::abs(units::from_si(si, unit)))) + 1 - digits);
}

std::string fitting(double si, units::Dimension dimension, Side side) {
  const auto show = [&](double value) { return units::show_fitting(value, dimension, digits); };
  const std::string text = show(si);
  return si == 0.0 ? text : moved(si, dimension, text, side, last_digit(si, text, dimension), show);
}

}  // namespace

std::string no_more_than(double si, units::Dimension dimension) { return fitting(si, dimension, Side::below); }

std::string no_more_than(double si, units::Dimension dimension, const std::string& unit) {
  const auto show = [&](double value) { return units::show_significant(value, unit, digits); };
  const std::string text = show(si);
  return si == 0.0 ? text : moved(si, dimension, text, Side::below, last_digit(si, text, dimension), show);
}

std::string no_less_than(double si, units::Dimension dimension) { return fitting(si, dimension, Side::above); }

std::string no_less_than(double si, units::Dimension dimension, const Scale& scale) {
  const std::string text = scale.text(si), number = text.substr(0, text.find(' '));
  if (number.starts_with('<')) return number;
  const std::size_t point = number.find('.');
  const double step =
      point == std::string::npos ? 1.0 : std::pow(10.0, -static_cast<double>(number.size() - point - 1));
  const std::string safe =
      moved(si, dimension, text, Side::above, step, [&](double value) { return scale.text(value); });
  return safe.substr(0, safe.find(' '));
}

}  // namespace airtally::report
