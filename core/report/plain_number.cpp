#include "report/plain_number.hpp"

#include <fmt/format.h>

#include <cmath>

namespace airtally::report {

std::string plain_number(double number, int digits) {
  const double limit = std::pow(10.0, digits);
  if (std::fabs(number) < limit - 0.5) return fmt::format("{:.{}g}", number, digits);
  const double step = std::pow(10.0, std::floor(std::log10(std::fabs(number))) + 1.0 - digits);
  return fmt::format("{:.0f}", std::round(number / step) * step);
}

}  // namespace airtally::report
