#pragma once
#include <optional>
#include <string>

#include "line/line.hpp"
#include "line/topology.hpp"

namespace airtally::study {

/// What the air's inertia, which the model leaves out, would do to a pull-down.
struct Inertia {
  double travel = 0.0;         ///< time that sound takes from the source to the farthest tip [s]
  double swing = 0.0;          ///< theta: the line's slowest swing has the period 2 pi theta [s]
  double damping = 0.0;        ///< zeta = tau/(2 theta) [-] > 0; infinite when there is nothing to swing
  double settle_change = 0.0;  ///< of the settle time, relative [-]; negative: the true line settles sooner
  double overshoot = 0.0;      ///< beyond the final vacuum, relative to it [-]; 0 from zeta = 1 on
};

/// theta [s] and the travel time of sound [s] of a line; the damping is infinite, the other two 0. `topology` is
/// the line's.
///
///   theta^2 = sum over the bores on the way from source to tip of (L/A) (C_beyond + C_own/2),   C = V/(R T)
///
/// with C_beyond all that hangs on the tip's side of the bore: the term that inertance adds to the second moment of
/// the tip's answer, as inductance does in a tree of RLC sections (Kahng and Muddu, IEEE Trans. CAD 16 (1997) 1507,
/// formula from memory). For one uniform tube with a volume V_t at its end, theta = (L/c) sqrt(V_t/V_tube + 1/2) with
/// c = sqrt(R T). The tip with the largest theta counts. `joins` that close a loop are left out.
Inertia line_inertia(const line::Line& line, const line::Topology& topology);

/// The rest of it for a lumped answer that settles within 5 % in `settle` [s] > 0, tau = settle/ln 20: the answer of
/// 1/(1 + tau s + theta^2 s^2) against that of 1/(1 + tau s).
///
/// From zeta = 3 on the settle time falls by 1/(6 zeta^2) of itself; it is shortest, 0.69 of it, at zeta = 0.69, where
/// the overshoot is just 5 %; below that the line swings and settles late. Held against gas dynamics in 400 cells
/// (docs/distributed.md, tests/agreement/distributed_test.cpp): the change is right within a factor of 2.5 for
/// zeta = 0.9 to 10; at 0.5 the line took 5 times the lumped settle time where this says 1.8, since a tube rings at
/// more than one note.
Inertia inertia_effect(Inertia line, double settle);

/// A sentence when it matters: when the settle time `settle` [s] changes by more than 2 %, or sound needs more than a
/// tenth of it. None for a settle time of 0.
std::optional<std::string> inertia_warning(const Inertia& inertia, double settle);

}  // namespace airtally::study
