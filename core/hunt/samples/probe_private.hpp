#pragma once
#include "hunt/samples/walk_private.hpp"

namespace airtally::hunt {

/// A sample that the line was solved at.
struct Probe {
  Eigen::VectorXd z;
  Eigen::VectorXd residuals;
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> slopes;
  double exact = 0.0;  ///< log posterior by the line; -1e300 where it could not be solved
  double guess = 0.0;  ///< by the stand-in
  bool solved() const { return exact > -1e299; }
};

/// Solves the line at the probe's z.
void solve(Probe& probe, Evidence& evidence, bool with_slopes);
/// Effective share of the probes when each is weighed by the line's posterior over the stand-in's.
double effective_share(const std::vector<Probe>& probes);
/// Makes a probe that was solved with slopes an anchor.
void anchor(StandIn& stand_in, const Probe& probe);
/// New anchors where the stand-in is farthest from the line, the farthest first; the probes' guesses follow. A probe
/// without slopes is solved for them by `evidence`. False when there is none to add.
bool mend(StandIn& stand_in, std::vector<Probe>& probes, Evidence& evidence);

}  // namespace airtally::hunt
