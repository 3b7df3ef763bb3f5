#pragma once
#include <algorithm>

namespace airtally::solve {

/// A pressure [Pa] that every law takes. Stages of a step may overshoot below nothing or beyond all measure, and a
/// matrix that is all but singular may leave what is no number; the error control then refuses the step, but the laws
/// are asked before. `least` [Pa] > 0 is below, and 1e8 Pa above, all that occurs.
inline double lawful(double pressure, double least) { return std::min(std::max(least, pressure), 1e8); }

}  // namespace airtally::solve
