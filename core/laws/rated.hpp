#pragma once
#include "gas/air.hpp"
#include "laws/conductance.hpp"
#include "laws/flow.hpp"

namespace airtally::laws {

/// A laminar path known from one measurement: m = k (p1^2 - p2^2).
struct Rated {
  double k = 0.0;  ///< [kg/(s Pa^2)] >= 0
};

/// From a mass flow `m` [kg/s] > 0 measured between `p1` and `p2` [Pa], p1 > p2 > 0.
Rated rated_from(double m, double p1, double p2);

/// A conductance that passes `m` [kg/s] between `p1` and `p2` [Pa] with air at 20 C: an orifice-like leak; b = 0.528.

Conductance conductance_from(double m, double p1, double p2, double b = 0.528);

Flow rated(const Rated& path, const Ends& ends);

}  // namespace airtally::laws
