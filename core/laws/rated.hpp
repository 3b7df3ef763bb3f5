#pragma once
#include "gas/air.hpp"
#include "laws/conductance.hpp"
#include "laws/flow.hpp"

namespace airtally::laws {

/// A laminar path known from one measurement.
struct Rated {
  double k = 0.0;  ///< [kg/(s Pa^2)] >= 0
};

/// The laminar path that passes mass flow `m` [kg/s] >= 0 between `p1` and `p2` [Pa], p1 > p2 > 0:
/// k = m/(p1^2 - p2^2). Throws: DomainError outside those ranges. Tested by tests/laws/rated_test.cpp.
Rated rated_from(double m, double p1, double p2);

/// Laminar flow of a rated path: m = k (p1 - p2)(p1 + p2). Odd. The temperature and viscosity of the measurement are
/// taken to be those of the use (1 K is 0.6 % of the flow); slip is not modelled, as the gap is unknown.
/// Throws: DomainError if a pressure is not positive or k is negative.
/// Source: Hagen-Poiseuille's law for an ideal gas. Tested by tests/laws/rated_test.cpp and
/// tests/literature/leak_test.cpp.
Flow rated(const Rated& path, const Ends& ends);

/// A conductance that passes `m` [kg/s] >= 0 between `p1` and `p2` [Pa], p1 > p2 > 0, with air at 20 C: an orifice-like
/// leak. `b` as in Conductance. Throws: DomainError outside those ranges. Tested by tests/laws/rated_test.cpp.
Conductance conductance_from(double m, double p1, double p2, double b = 0.528);

}  // namespace airtally::laws
