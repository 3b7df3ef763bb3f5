#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace airtally::read {

/// Of a height above the sea in a unit that nobody says one in, as "340 mm" for 340 m, which would pass for a third of
/// a metre: what is wrong, beginning with the text itself. Nothing of 0, of m, km and ft, and of a text that is no
/// length.
std::optional<std::string> height_slip(std::string_view text);

}  // namespace airtally::read
