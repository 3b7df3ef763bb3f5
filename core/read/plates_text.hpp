#pragma once
#include <string_view>
#include <vector>

namespace airtally::read {

/// Diameters of the drilled plates in a text such as "0.5 mm, 1 mm" [m], 0.01 mm to 10 mm, each once, the least first;
/// of "none", none. Throws units::UnitError.
std::vector<double> plates_in(std::string_view text);

}  // namespace airtally::read
