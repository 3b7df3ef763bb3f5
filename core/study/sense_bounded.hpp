#pragma once
#include <vector>

#include "laws/detection.hpp"

namespace airtally::study {

/// Part of what a bounded scatter adds to a vacuum: anywhere between two ends, all alike.
struct Stretch {
  double from = 0.0,   ///< its lower end, off the mean [Pa]
      to = 0.0;        ///< its upper end, likewise, `from` or more [Pa]
  double share = 1.0;  ///< how often it is this stretch [-]
};
/// A bounded scatter; their shares are 1 together. Empty: there is none.
using Stretches = std::vector<Stretch>;

/// A vacuum that scatters normally about a value that has ends of its own, such as that of a part whose gap is stated
/// as a range: beyond these ends there is the normal scatter alone.
struct BoundedScatter {
  laws::Scatter normal;  ///< its mean, without what is bounded, and its deviation [Pa] > 0
  Stretches about = {};  ///< what is bounded
};

/// How seldom it lies above `threshold` [Pa], as the deviations that leave a normal scatter beyond as seldom [-]; below
/// 0 where it lies above more often than not. Exact, however seldom that is.
double deviations_below(const BoundedScatter& scatter, double threshold);
/// The same of lying below `threshold`.
double deviations_above(const BoundedScatter& scatter, double threshold);

/// How often it lies above `threshold` [Pa], 0 to 1.
double share_above(const BoundedScatter& scatter, double threshold);
/// How often it lies below.
double share_below(const BoundedScatter& scatter, double threshold);

/// Its density at `vacuum` [Pa], 1/Pa.
double density(const BoundedScatter& scatter, double vacuum);

/// Lowest threshold [Pa] above which it lies as seldom as a normal one beyond `deviations`.
double threshold_above(const BoundedScatter& scatter, double deviations);
/// Highest threshold [Pa] below which it does.
double threshold_below(const BoundedScatter& scatter, double deviations);

/// As laws::separation(): deviations from either state to the threshold at which both errors are alike.
double separation(const BoundedScatter& below, const BoundedScatter& above);

/// As laws::best_threshold(): where both errors together are least, between the means [Pa], below's the lower.
double best_threshold(const BoundedScatter& below, const BoundedScatter& above);

/// Both scatters together, each drawn by itself; ends are exact, what lies between in at most 64 stretches.
Stretches added(const Stretches& a, const Stretches& b);

/// Neighbours made one while they are no wider together than a quarter of the normal scatter about them, `normal` [Pa],
/// with the mean and the variance that they have. No more than eight stretches stay as they are.
Stretches condensed(const Stretches& all, double normal);

/// The sum of many bounded scatters, symmetric about 0: of their deviation [Pa], cut off at `reach` [Pa], which all of
/// them together don't exceed, and as flat as that of `ranges` >= 1 ranges of one width. 1: the range itself. Empty
/// where the deviation is 0.
Stretches sum_of_ranges(double deviation, double reach, double ranges);

}  // namespace airtally::study
