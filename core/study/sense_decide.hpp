#pragma once
#include "laws/clipped.hpp"
#include "laws/detection.hpp"
#include "study/sense_bounded.hpp"

namespace airtally::study {

/// What the machine reads in one state, as vacuum at the sensor [Pa].
struct SeenState {
  laws::Clipped reading;  ///< with all that scatters normally
  Stretches gaps = {};    ///< what parts of gaps with ends add to it ahead of the limits
};

/// What it reads in the two states that it has to tell apart.
struct Seen {
  SeenState open;  ///< nothing on the tip
  SeenState part;  ///< the part on it
};

/// A state's scatter without any limits, about the mean that they leave.
BoundedScatter unlimited(const SeenState& state);

/// How far apart the two are once all limits have held what they hold [Pa]; 0 where both read alike, below 0 where the
/// part reads less than an open tip.
double signal(const Seen& seen);

/// Deviations [-] between either state and the threshold of equal error: the signal over both scatters as they are
/// ahead of the limits. A limit that cuts into a scatter makes it no better here, though it makes it narrower; error
/// rates are those of what is left.
double separation(const Seen& seen);

/// What `threshold` [Pa] gets wrong.
laws::ErrorRates rates_of(const Seen& seen, double threshold);

/// The threshold [Pa] that errs least. Where a limit holds one of the states and leaves room for a threshold that errs
/// less than once in a billion either way, the one in the middle of that room, by deviations: right below a limit
/// stands no threshold that outlasts a warmer day. Needs a signal above 0.
double threshold_of(const Seen& seen);

/// Rate of either error [-] at the threshold where both are alike; 0.5 without a signal.
double equal_error(const Seen& seen);

/// The vacuum [Pa], from `threshold` up to the part's own, from which a part that scatters as in `part` reads below the
/// threshold no more often than `allowed` [-]. Its own must be enough.
double safe_vacuum(const SeenState& part, double threshold, double allowed);

/// The vacuum [Pa], from the open tip's own up to `threshold`, up to which one that scatters as in `open` reads above
/// the threshold no more often than `allowed` [-]. Its own must be little enough.
double safe_vacuum_missed(const SeenState& open, double threshold, double allowed);

}  // namespace airtally::study
