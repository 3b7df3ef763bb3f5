#include "read/plates_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "read/plate_limits_private.hpp"
#include "units/parse.hpp"
#include "units/trimmed.hpp"

namespace airtally::read {

std::vector<double> plates_in(std::string_view text) {
  std::vector<double> all;
  if (units::trimmed(text) == "none") return all;
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find(',', begin), text.size());
    const std::string_view one = units::trimmed(text.substr(begin, end - begin));
    const units::Quantity hole = units::parse(std::string(one), units::Dimension::length);
    if (!hole.is_exact()) throw units::UnitError(begin, fmt::format("'{}' is not one diameter.", one));
    if (!(hole.value >= limits::plate.low && hole.value <= limits::plate.high))
      throw units::UnitError(begin, fmt::format("'{}' lies outside {}.", one, limits::plate.words));
    all.push_back(hole.value);
    begin = end + 1;
  }
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

}  // namespace airtally::read
