#pragma once
#include <cstddef>
#include <span>
#include <vector>

namespace airtally::hunt {

/// A stretch of readings and what it would mean: which element would then most likely be the worst, and who would be
/// cleared (below 5 %, having been above 10 %).
struct Outcome {
  double low = 0.0,                  ///< where it begins [the reading's unit]
      high = 0.0;                    ///< where it ends [the reading's unit]
  std::size_t element = 0;           ///< then most likely the worst, an index into the line
  double probability = 0.0;          ///< that it is the worst, over the stretch [-]
  double chance = 0.0;               ///< of reading something in the stretch [-], 0.02 or more
  std::vector<std::size_t> cleared;  ///< elements, indices into the line
};

/// What a reading not yet made would tell about which element is the worst.
struct Information {
  double bits = 0.0;              ///< expected fall of the uncertainty (entropy) about the worst element [bit] >= 0
  std::vector<Outcome> outcomes;  ///< rising readings, those that are likely enough; empty when not asked for
};

/// From samples: `reading` that each predicts, the `worst` element in each, their `weight` (adding up to 1), and the
/// standard deviation `noise` > 0 of one reading. Mutual information by integration of the densities of the reading
/// given each element; these are sums of normal kernels as wide as the noise and the samples' own spacing (Silverman's
/// rule) make them, so that few samples don't pretend to separate what they merely sparsely cover. `elements`: number
/// of elements. `outcomes` are only made when asked for.
Information information_of(std::span<const double> reading, std::span<const std::size_t> worst,
                           std::span<const double> weight, double noise, std::size_t elements, bool with_outcomes);

}  // namespace airtally::hunt
