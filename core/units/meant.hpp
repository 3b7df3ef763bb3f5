#pragma once
#include <cstddef>
#include <span>
#include <string_view>

#include "units/dimension.hpp"

namespace airtally::units {

/// Where a text may be any of several quantities: which of `choices`, one or more, it has the unit of. Where it has the
/// unit of none, that with the unit that was probably meant, as the one of which the complaint should be: "362 ma" is a
/// current. The first where neither helps.
std::size_t meant(std::string_view text, std::span<const Dimension> choices);

}  // namespace airtally::units
