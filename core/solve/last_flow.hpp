#pragma once
#include <cmath>

#include "laws/flow.hpp"

namespace airtally::solve {

/// A path as it was evaluated last: its tangent there foretells the flow at pressures nearby, which saves the laws that
/// iterate a trial or two.
struct LastFlow {
  double m = 0.0;       ///< of the law, without the path's factor [kg/s]
  double dm_dp1 = 0.0,  ///< its slopes [kg/(s Pa)]
      dm_dp2 = 0.0;     ///< with the pressure at the other end
  double pa = 0.0,      ///< pressures where it was evaluated [Pa]; 0: no tangent, only a flow
      pb = 0.0;         ///< at the other end

  /// The flow to be expected at these pressures [kg/s].
  double guess(double now_a, double now_b) const {
    if (pa == 0.0) return m;
    const double foretold = m + dm_dp1 * (now_a - pa) + dm_dp2 * (now_b - pb);
    // A tangent followed far leads astray.
    return foretold * m > 0.0 && std::fabs(foretold - m) < 0.5 * std::fabs(m) ? foretold : m;
  }

  /// Keeps what path_flow() gave: the path's flow `f` with its factor `scale`, and the law's own flow.
  void keep(const laws::Flow& f, double scale, double law_flow, double now_a, double now_b) {
    const double unscaled = scale > 0.0 ? 1.0 / scale : 0.0;
    *this = {law_flow, f.dm_dp1 * unscaled, f.dm_dp2 * unscaled, now_a, now_b};
  }
};

}  // namespace airtally::solve
