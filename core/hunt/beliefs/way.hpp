#pragma once
#include <optional>
#include <span>

#include "hunt/beliefs/unknowns.hpp"

/// How open the way through an element is, of all that may narrow it.
namespace airtally::hunt {

/// The drop, from the site's ambient, at which a narrower bore is held against the file's [Pa].
inline constexpr double way_drop = 10e3;

/// What a bore `factor` times as wide as the file's lets through of what that does, at way_drop [-] > 0: as the fourth
/// power where the flow is laminar, as the 2.5th to 2.7th where it is turbulent. By the bore's own law, without what
/// the steps at its ends take. `factor` > 0.
double through_bore(const line::Bore& bore, double factor, const gas::Site& site);

/// What the way through an element lets through of what it does as filed: its blockage, and its bore through
/// through_bore(). `values`: one per unknown, as Suspects::values(). None where nothing restricts the element. Tested
/// by tests/hunt/way_test.cpp.
std::optional<double> way_through(const Suspects& suspects, std::size_t element, std::span<const double> values);

/// The same of what the file has at least: below 1 where it states a range.
std::optional<double> filed_way(const Suspects& suspects, std::size_t element);

}  // namespace airtally::hunt
