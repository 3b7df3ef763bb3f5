#include "report/look.hpp"

#include <algorithm>
#include <cmath>

#include "units/show.hpp"

namespace airtally::report {
namespace {

const units::Unit& unit(std::string_view symbol, units::Dimension dimension) {
  return *units::find_unit(symbol, dimension);
}

/// Decimals that give `largest` (in its unit) that many significant digits, within `least` and `most`.
int decimals(double largest, int digits, int least, int most) {
  if (!(largest > 0.0)) return least;
  return std::clamp(digits - 1 - static_cast<int>(std::floor(std::log10(largest))), least, most);
}

}  // namespace

std::optional<std::string> Scale::rounded(double si) const {
  // A hundred thousand of a unit are no reading, and their last digits say nothing; pascals of a room are some more.
  const double from = decimals_ > 0 ? 1e5 : 1e6;
  if (!std::isfinite(si) || std::abs(units::from_si(si, *unit_)) < from) return std::nullopt;
  const std::string text = units::show_significant(si, *unit_, 4);
  return text.substr(0, text.find(' '));
}

std::string Scale::number(double si) const {
  if (const auto round = rounded(si)) return *round;
  const double step = std::pow(10.0, -decimals_);
  const double here = units::from_si(si, *unit_);
  const std::string text = units::show(si, *unit_, decimals_);
  std::string digits = text.substr(0, text.find(' '));
  const bool zero = digits.find_first_of("123456789") == std::string::npos;
  if (!zero || here < 1e-3 * step) return digits;
  const std::string least = units::show(units::to_si(step, *unit_), *unit_, decimals_);
  return '<' + least.substr(0, least.find(' '));
}

std::string Scale::gain(double si) const {
  if (const auto round = rounded(si)) return (si > 0.0 ? "+" : "") + *round;
  const std::string text = units::show(si, *unit_, decimals_);
  const std::string digits = text.substr(0, text.find(' '));
  const bool rises = !digits.starts_with('-') && digits.find_first_of("123456789") != std::string::npos;
  return (rises ? "+" : "") + digits;
}

std::string Scale::text(double si) const { return number(si) + ' ' + unit(); }

Scale vacuum_scale(const Look& look, double largest) {
  constexpr double tenth_of_a_kilopascal = 102.0;  // Pa; the allowance lets 0.001 atm pass
  const double one = units::to_si(1.0, *look.vacuum);
  const int usual = std::max(0, static_cast<int>(std::ceil(std::log10(one / tenth_of_a_kilopascal))));
  const double last = one * std::pow(10.0, -usual);
  const double size = std::abs(largest);
  const int finer = size <= 0.0 || size >= 10.0 * last ? 0 : size >= last ? 1 : 2;
  return {*look.vacuum, usual + finer};
}

Scale flow_scale(double largest) {
  const units::Unit& litres = unit("L/min", units::Dimension::flow);
  const double size = std::abs(units::from_si(largest, litres));
  if (size >= 0.1 || size <= 0.0) return {litres, decimals(size, 4, 0, 2)};
  return {unit("mL/min", units::Dimension::flow), decimals(1e3 * size, 4, 0, 2)};
}

Scale leak_scale(double largest) {
  const units::Unit& millilitres = unit("mL/min", units::Dimension::flow);
  const double size = std::abs(units::from_si(largest, millilitres));
  if (size >= 1e4) return {unit("L/min", units::Dimension::flow), size >= 1e5 ? 2 : 3};
  return {millilitres, size >= 10.0 ? 1 : 2};
}

Scale time_scale(double largest) {
  const double size = std::abs(largest);
  const std::string_view symbol = size >= 1.0 ? "s" : size >= 1e-3 || size <= 0.0 ? "ms" : "us";
  const units::Unit& u = unit(symbol, units::Dimension::time);
  return {u, decimals(units::from_si(size, u), 3, 0, 2)};
}

Scale current_scale(double largest) { return {unit("mA", units::Dimension::current), largest >= 1.0 ? 0 : 1}; }

std::string at_most(const std::string& number) {
  return number.starts_with('<') ? "below " + number.substr(1) : "at most " + number;
}

std::string vacuum(const Look& look, double pa) { return vacuum_scale(look, pa).text(pa); }
std::string flow(double kg_per_s) {
  const units::Unit& millilitres = unit("mL/min", units::Dimension::flow);
  constexpr double least = 1e-3;  // mL/min; nothing on a bench shows less
  const double size = units::from_si(kg_per_s, millilitres);
  if (size > 0.0 && size < least) return '<' + units::show(units::to_si(least, millilitres), millilitres, 3);
  return units::show_fitting(kg_per_s, units::Dimension::flow, 3);
}
std::string time(double seconds) { return units::show_fitting(seconds, units::Dimension::time, 3); }

}  // namespace airtally::report
