#pragma once
#include <vector>

#include "hunt/hunt.hpp"

namespace airtally::report {

/// Open fraction, of the file's, from which on a way is as the file has it [-].
inline constexpr double clear = 0.95;

/// Times its curve's flow: no pump of that curve [-].
inline constexpr double no_pump = 1.15;

/// Whether nothing but its design speaks against the first.
bool by_design(const hunt::Hunt& hunt);

/// Whether a pump seems to give what no pump of its curve gives: then nothing but the first is to be believed.
bool too_strong(const hunt::Hunt& hunt);

/// Whether what is wrong with an element is that the part does not seal on it, and that alone.
bool seal_alone(const hunt::Hunt& hunt, const hunt::Finding& finding);

/// What is told as worse than filed: nothing on figures that are not to be relied on, and of those of whom each may
/// have done it no one.
std::vector<hunt::Finding> told(const hunt::Hunt& hunt);

}  // namespace airtally::report
