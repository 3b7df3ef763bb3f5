#pragma once
#include <cstddef>
#include <string_view>

#include "units/dimension.hpp"

namespace airtally::units {

/// Throws the UnitError that explains best why `spelt`, found at byte `offset` of `text`, is no unit of `dimension`: a
/// word such as "abs" or "gauge" beside a pressure, a unit of something else, a slip of the shift key, or unknown.
[[noreturn]] void refuse_unit(std::string_view text, std::size_t offset, std::string_view spelt, Dimension dimension);

}  // namespace airtally::units
