#include "units/show.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>

#include "errors.hpp"
#include "gas/air.hpp"

namespace airtally::units {
namespace {

const Unit& known(std::string_view symbol) {
  const Unit* unit = find_unit(symbol);
  if (unit == nullptr) throw DomainError(fmt::format("show: '{}' is not a unit.", symbol));
  return *unit;
}

double finite(double si) {
  if (!std::isfinite(si)) throw DomainError("show: the value is not finite.");
  return si;
}

std::string without_minus_zero(std::string text) {
  if (text.starts_with('-') && text.find_first_of("123456789") == std::string::npos) text.erase(0, 1);
  return text;
}

std::string with_unit(const std::string& number, const Unit& unit) {
  return unit.symbol.empty() ? number : fmt::format("{} {}", number, unit.symbol);
}

// Power of ten of the first digit after rounding: 9.996 to three digits is 10.0, so 1.
int leading_power(double number, int digits) {
  const std::string scientific = fmt::format("{:.{}e}", number, digits - 1);
  std::size_t start = scientific.find('e') + 1;
  if (scientific[start] == '+') ++start;  // std::from_chars takes a minus only
  int power = 0;
  std::from_chars(scientific.data() + start, scientific.data() + scientific.size(), power);
  return power;
}

std::string significant(double number, int digits) {
  if (number == 0.0) return "0";
  const int power = leading_power(number, digits);
  if (power < -6 || power >= 15) return fmt::format("{:.{}e}", number, digits - 1);
  const int decimals = digits - 1 - power;
  if (decimals >= 0) return fmt::format("{:.{}f}", number, decimals);
  const double step = std::pow(10.0, -decimals);
  return fmt::format("{:.0f}", std::round(number / step) * step);
}

double rounded(double number, int digits) {
  const std::string scientific = fmt::format("{:.{}e}", number, digits - 1);
  double result = number;
  std::from_chars(scientific.data(), scientific.data() + scientific.size(), result);
  return result;
}

// From `from` (SI) up, this unit reads best. Within a dimension in rising order.
struct Fit {
  Dimension dimension;
  double from;
  std::string_view symbol;
};

constexpr double free_air_litre_per_minute = gas::free_air_density / 60e3;
constexpr std::array fits{
    Fit{Dimension::length, 0.0, "nm"},     Fit{Dimension::length, 1e-7, "um"},
    Fit{Dimension::length, 1e-4, "mm"},    Fit{Dimension::length, 1.0, "m"},
    Fit{Dimension::pressure, 0.0, "Pa"},   Fit{Dimension::pressure, 1e2, "kPa"},
    Fit{Dimension::pressure, 1e6, "MPa"},  Fit{Dimension::pressure, 1e9, "GPa"},
    Fit{Dimension::flow, 0.0, "mL/min"},   Fit{Dimension::flow, 0.1 * free_air_litre_per_minute, "L/min"},
    Fit{Dimension::volume, 0.0, "mm3"},    Fit{Dimension::volume, 1e-7, "mL"},
    Fit{Dimension::volume, 1e-3, "L"},     Fit{Dimension::volume, 1.0, "m3"},
    Fit{Dimension::mass, 0.0, "ug"},       Fit{Dimension::mass, 1e-7, "mg"},
    Fit{Dimension::mass, 1e-3, "g"},       Fit{Dimension::mass, 1.0, "kg"},
    Fit{Dimension::time, 0.0, "us"},       Fit{Dimension::time, 1e-3, "ms"},
    Fit{Dimension::time, 1.0, "s"},        Fit{Dimension::time, 120.0, "min"},
    Fit{Dimension::time, 7200.0, "h"},     Fit{Dimension::current, 0.0, "uA"},
    Fit{Dimension::current, 1e-3, "mA"},   Fit{Dimension::current, 1.0, "A"},
    Fit{Dimension::voltage, 0.0, "uV"},    Fit{Dimension::voltage, 1e-3, "mV"},
    Fit{Dimension::voltage, 1.0, "V"},     Fit{Dimension::force, 0.0, "uN"},
    Fit{Dimension::force, 1e-3, "mN"},     Fit{Dimension::force, 1.0, "N"},
    Fit{Dimension::torque, 0.0, "uN m"},   Fit{Dimension::torque, 1e-3, "mN m"},
    Fit{Dimension::torque, 1.0, "N m"},    Fit{Dimension::speed, 0.0, "mm/s"},
    Fit{Dimension::speed, 1.0, "m/s"},     Fit{Dimension::frequency, 0.0, "Hz"},
    Fit{Dimension::frequency, 1e3, "kHz"},
};

}  // namespace

std::string show(double si, const Unit& unit, int decimals) {
  return with_unit(without_minus_zero(fmt::format("{:.{}f}", finite(from_si(finite(si), unit)), decimals)), unit);
}

std::string show_significant(double si, const Unit& unit, int digits) {
  return with_unit(significant(finite(from_si(finite(si), unit)), digits), unit);
}

std::string show(double si, std::string_view unit_symbol, int decimals) {
  return show(si, known(unit_symbol), decimals);
}

std::string show_significant(double si, std::string_view unit_symbol, int digits) {
  return show_significant(si, known(unit_symbol), digits);
}

std::string show_fitting(double si, Dimension dimension, int digits) {
  const Unit* unit = &units_of(dimension).front();
  if (finite(si) == 0.0) return with_unit("0", *unit);
  for (const Fit& fit : fits) {
    if (fit.dimension != dimension) continue;
    const Unit* candidate = find_unit(fit.symbol, dimension);
    // Round first, so that 0.9996 ms to three digits is "1.00 ms" and not "1000 us"; the allowance covers the rounding
    // of the border itself.
    constexpr double allowance = 1e-12;
    const double number = rounded(std::abs(from_si(si, *candidate)), digits);
    if (number >= from_si(fit.from, *candidate) * (1.0 - allowance)) unit = candidate;
  }
  return show_significant(si, *unit, digits);
}

}  // namespace airtally::units
