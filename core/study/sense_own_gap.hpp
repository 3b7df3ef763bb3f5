#pragma once
#include <cstddef>
#include <vector>

#include "line/line.hpp"
#include "solve/network.hpp"
#include "solve/steady.hpp"
#include "study/sense_bounded.hpp"

namespace airtally::study {

/// What the gap of the one part that is to be told makes of the vacuum at every place, over all that the file says the
/// gap may be.
class OwnGap {
 public:
  /// None: the gap is exact.
  OwnGap() = default;
  /// `network` has the part on `nozzle`, an index into the nozzles, and every gap in the middle; `x` is its solution.
  /// Of a range the vacuum is solved at nine gaps, of a tolerance at 131, a tenth of a deviation apart and up to 6.5 of
  /// them off, which is one part in ten billion; it is straight between. Throws NoConvergence.
  OwnGap(const line::Line& line, solve::Network network, std::size_t nozzle, const solve::Pressures& x);

  /// The vacuum at the tip-side end of `element`, an index into the line, off that of the middle gap. Empty where the
  /// gap is exact.
  Stretches at(std::size_t element) const;

 private:
  std::vector<double> shares_;            ///< how often the gap is between one point and the next [-]; 1 together
  std::vector<std::vector<double>> off_;  ///< per point, per element [Pa]
};

/// Gives one nozzle's part another gap [m]; the parts on the others stay as they are. At most zero: next to nothing.
void set_gap(solve::Network& network, std::size_t nozzle, double gap);

}  // namespace airtally::study
