#pragma once
#include <span>
#include <vector>

#include "hunt/beliefs/prior.hpp"
#include "hunt/readings/reading.hpp"

/// What is believed of a drilled plate: a hole of known size is not a known flow.
namespace airtally::hunt {

/// Factor on the flow through a plate's hole, of what laws::hole() has for its diameter [-], before anything is read.
///
/// A sharp edge has a discharge coefficient of 0.61 at small drop and 0.84 when choked (Perry, Trans. ASME 71 (1949)
/// 757, from memory), a plate as thick as its hole about 0.8 throughout (common practice, no source): 0.6 to 0.85 are
/// nine in ten, unless the bench has measured its own. A drilled hole is 2 % wider or narrower than its drill (common
/// practice, no source), one standard deviation. Of one plate it is one factor, whatever it is put behind.
Prior plate_prior(const Bench& bench);

/// Diameters of the holes that were read with, each once, the least first [m].
std::vector<double> plates_of(std::span<const Reading> readings);

}  // namespace airtally::hunt
