#pragma once
#include <optional>
#include <vector>

#include "gas/air.hpp"
#include "solve/network.hpp"
#include "solve/steady.hpp"

namespace airtally::study {

/// What of a slot's drop its laminar law leaves to the air's inertia.
struct SlotHead {
  double area = 0.0;   ///< that the whole flow passes where it is fastest [m2] > 0
  double heads = 0.0;  ///< velocity heads of the mean speed there that are lost [-] > 0
};

/// The head of a path whose law is a clearance or a face gap: 54/35 of a head for the parabolic profile, and half a
/// head at a clearance's entrance. A face gap's is counted at the inner radius, where the air is fastest; its entrance
/// is wide and costs little. Nothing for other laws.
std::optional<SlotHead> slot_head(const solve::Path& path);

/// The share [-], 0 to 1, by which a flow is less than its laminar law says when heads would take `share` [-] of the
/// drop: a m + b m^2 = drop with b m0^2 = share drop, a m0 = drop. 0 where `share` is not above 0.
double lost_to_inertia(double share);

/// Per path the share [-], 0 to 1, by which its head would lower its flow at the drop that it has in `solver`, which
/// has solved `network` at `x`: a first estimate, and a fair one while it is small. 0 for paths without a head.
std::vector<double> less_at_drops(const solve::Network& network, const solve::Steady& solver,
                                  const solve::Pressures& x);

/// A line solved with the heads of its slots.
struct WithHeads {
  std::vector<double> less;  ///< per path the share by which its flow is less [-], 0 to 1; 0 without a head
  solve::Pressures x;        ///< the pressures then [Pa]
};

/// The line with the heads of its slots, against `solver`, which has solved `network` at `x` without them. A slot that
/// passes less lets the vacuum behind it rise, which drives it harder and thins its air: one that is wide beside what
/// it leads to loses next to nothing, whatever it would at the drop that it had. Found by solving the line again with
/// each slot at what its head leaves, until that changes by less than 1e-6 of itself. The density is that of the slot's
/// low end. Throws NoConvergence.
WithHeads with_heads(const solve::Network& network, const solve::Steady& solver, const solve::Pressures& x);

}  // namespace airtally::study
