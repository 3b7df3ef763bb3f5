#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"
#include "laws/slot.hpp"

namespace airtally::laws {

/// Flow under a nozzle that comes down on a part: the radial gap's laminar friction and, at wider gaps, the velocity
/// head in the curtain between rim and part.
///
///   p1^2 - p2^2 = a m + b m^2,  a = 12 mu R T ln(ro/ri)/(pi h^3),  b = 1.5 R T/(2 pi ri h)^2
///
/// b is the head of the flow through the curtain's area 2 pi ri h with an entrance loss of 0.5 (both K on the speed
/// there; from p1 - p2 = 1.5 G^2/(2 rho) with rho at the mean pressure). At a small gap it is the face gap's law, at a
/// wide one an orifice's without its choking: as p2 falls the flow levels off at G = 0.82 p1/sqrt(R T), a fifth above
/// the choked value. Slip as in the face gap. Not modelled: recovery of the head behind the curtain, swirl, a tilted
/// part.
///
/// gap h > 0 [m], inner ri and outer ro radii [m], ro > ri. Throws DomainError otherwise.
/// Source: the two terms are the face gap's and Borda's (any fluid mechanics text); their sum is the usual form for
/// ducts with minor losses. Common practice, no source for a closing nozzle. Tested by tests/laws/closing_gap_test.cpp.
struct ClosingGap {
  double gap = 0.0;    ///< h [m] > 0
  double inner = 0.0;  ///< inner radius ri [m] > 0
  double outer = 0.0;  ///< outer radius ro [m], above the inner
};
/// The flow from end 1 to end 2 by the law above, with the `air` that enters. Odd, and continuous with its slopes.
/// Throws DomainError for a pressure or dimension outside its range.
Flow closing_gap(const ClosingGap& path, const Ends& ends, const gas::Air& air);

}  // namespace airtally::laws
