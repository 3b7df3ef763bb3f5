#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <string_view>

namespace airtally::units {

/// The number of single-letter slips (left out, added, changed, or two neighbours swapped) that lead from one word to
/// the other, upper and lower case alike. The optimal string alignment form of the distance after F. J. Damerau, Comm.
/// ACM 7 (1964) 171. Counts bytes.
std::size_t slips(std::string_view a, std::string_view b);

/// The word of `known` that `word` was probably meant to be: fewest slips, at most a third of its letters (one is
/// always allowed), the first of equals; nothing if none is that near, if every letter would change, or beyond 80
/// bytes. The result views into `known`.
std::optional<std::string_view> nearest(std::string_view word, std::span<const std::string_view> known);

/// The same, or where nothing is that near the first of `known` that has `word` among its words, upper and lower case
/// alike: "rotary joint" for "joint".
std::optional<std::string_view> nearest_name(std::string_view word, std::span<const std::string_view> known);

}  // namespace airtally::units
