#pragma once
#include <vector>

#include "solve/evaluation.hpp"
#include "solve/network.hpp"

namespace airtally::solve {

/// How much of a pump's ripple is felt where: per node, the size of a small sine of `frequency` [Hz] > 0 relative to
/// its size at the inlet of source `source`, an index into the network's sources [-].
///
/// The flows are taken straight around the pressures that `evaluation` was made at, each node stores V/(gamma R T) (air
/// that has no time to take up heat, which lets more of the ripple pass than air that has), and the source's node is
/// given. Nodes that nothing feeds feel nothing. Left out, as everywhere: inertia and sound travel, which matter where
/// a tube is longer than about a tenth of sound speed over frequency.
std::vector<double> ripple_shares(const Network& network, const Evaluation& evaluation, std::size_t source,
                                  double frequency);

}  // namespace airtally::solve
