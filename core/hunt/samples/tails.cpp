#include <cmath>

#include "hunt/samples/tails_private.hpp"

namespace airtally::hunt {
namespace {

constexpr double held_at[] = {-2.0, 1.5, 2.5};  ///< z: a leak or a closed way has its long tail upwards
constexpr double known = 0.5;                   ///< from the peak's own z: no tail yet
constexpr int steps = 2;                        ///< of Gauss and Newton
constexpr double tail_end = 4.0;                ///< z that the others may go to
constexpr double matters = 7.0;                 ///< of log posterior: less than the peak's by more has no mass
constexpr double misjudged = 1.0;               ///< of log posterior: by which the stand-in thinks too little

Eigen::VectorXd bounded(const Eigen::VectorXd& z) { return z.cwiseMax(-tail_end).cwiseMin(tail_end); }

/// The step of all but k to the peak of the posterior as it is linearised at the probe.
Eigen::VectorXd step_of_the_rest(const Probe& probe, Eigen::Index k) {
  Eigen::MatrixXd slopes = probe.slopes;
  slopes.col(k).setZero();
  Eigen::MatrixXd precision = slopes.transpose() * slopes;
  precision.diagonal().array() += 1.0;
  Eigen::VectorXd step = -precision.llt().solve(slopes.transpose() * probe.residuals + probe.z);
  step[k] = 0.0;  // its equation is apart from the others'
  return step;
}

/// Where all others give way as the peak's linearisation has them, when unknown k goes to z.
Eigen::VectorXd given_way(const StandIn& stand_in, const Stand& peak, Eigen::Index k, double z) {
  const double pump = stand_in.pump() < 0 ? 1.0 : peak.values[stand_in.pump()];
  const double value = stand_in.suspects().unknowns[static_cast<std::size_t>(k)].prior.at(z);
  const double step = stand_in.coordinate(k, value, pump) - peak.w[k];
  const StandIn::Anchor& anchor = stand_in.anchors()[static_cast<std::size_t>(peak.anchor)];
  Stand there;
  const bool good = put_coordinates(stand_in, peak, peak.w + step * anchor.yield.col(k), there);
  Eigen::VectorXd all = bounded(good ? there.z : peak.z);
  all[k] = z;
  return all;
}

/// The best of the start and what the steps from it reach.
Probe followed(Eigen::VectorXd start, Eigen::Index k, Evidence& evidence) {
  Probe best, here;
  best.exact = -1e300;
  here.z = std::move(start);
  for (int step = 0;; ++step) {
    solve(here, evidence, true);
    if (here.exact > best.exact) best = here;
    if (!here.solved() || step == steps) return best;
    here.z = bounded(here.z + step_of_the_rest(here, k));
  }
}

}  // namespace

std::vector<Probe> tails(const StandIn& stand_in, const Mixture& mixture, const Eigen::VectorXd& peak,
                         Evidence& evidence, std::size_t part, std::size_t parts) {
  std::vector<Probe> found;
  Stand at_peak, there;
  if (stand_in.anchors().empty() || !put(stand_in, peak, at_peak)) return found;
  std::size_t turn = 0;
  for (Eigen::Index k = 0; k < peak.size(); ++k) {
    const Unknown& unknown = stand_in.suspects().unknowns[static_cast<std::size_t>(k)];
    // The readings are linear in an instrument's error, and what has no spread moves nothing.
    if (unknown.what == What::offset || !mixture.informed(k) || at_peak.dw[k] == 0.0 || turn++ % parts != part)
      continue;
    for (const double z : held_at) {
      if (std::fabs(z - peak[k]) < known) continue;
      Probe probe = followed(given_way(stand_in, at_peak, k, z), k, evidence);
      if (!probe.solved() || probe.exact < at_peak.log_posterior() - matters || !put(stand_in, probe.z, there))
        continue;
      probe.guess = there.log_posterior();
      if (probe.exact > probe.guess + misjudged) found.push_back(std::move(probe));
    }
  }
  return found;
}

}  // namespace airtally::hunt
