#pragma once
#include <Eigen/Dense>
#include <vector>

#include "hunt/samples/mixture_private.hpp"
#include "hunt/samples/probe_private.hpp"
#include "hunt/samples/walk_private.hpp"

namespace airtally::hunt {

/// One sample on its way from the normal mixture to the stand-in's posterior.
struct Point {
  Eigen::VectorXd z;
  double log_posterior = 0.0;
  double log_mixture = 0.0;
  double off = 0.0;  ///< what the line's log posterior has over the stand-in's; only correct() needs it
};

/// A stand with the linearisation of the posterior around it.
struct Linear {
  Stand stand;
  double log_mixture = 0.0;
  Eigen::VectorXd newton;  ///< step to the peak of the linearised posterior
  Eigen::MatrixXd factor;  ///< U with U^T U = I + J^T J
  double log_det = 0.0;    ///< of U
};

/// A population of samples that is led from the mixture (t = 0) to the stand-in's posterior (t = 1) through
/// mixture^(1-t) posterior^t.
///
/// A sweep moves each sample by six kinds of Metropolis steps. Refresh: one unknown at a time takes an autoregressive
/// step of its prior, which suits all that the readings say little about. Counterweight: an unknown takes such a step
/// and up to three others move so that the readings stay where they are, as far as these can, which runs along the
/// ridges of what only a combination is known of. Exchange: two elements swap their leaks, which carries look-alikes
/// from one peak to the other. Sharing: two elements share the sum of their leaks anew, by what their priors say of
/// shares of such a sum. Fresh start: a draw from the mixture. Newton: all unknowns together along the local
/// linearisation, which suits what the readings pin down.
class Population {
 public:
  /// `stand_in` and `mixture` must outlive the population.
  Population(const StandIn& stand_in, const Mixture& mixture, std::size_t count, std::uint64_t seed);

  /// Leads the samples to the posterior, with one sweep at each temperature and `sweeps` there.
  void run(int sweeps);
  void sweep_all(int sweeps);
  /// The stand-in has changed: weighs the samples anew, and sweeps.
  void retarget(int sweeps);

  /// Leads `count` of the samples from the stand-in's posterior to the line's own, as `evidence` solves it, through
  /// stand-in^(1-t) line^t. A step is as many of the stand-in's as leave it a
  /// fair chance, taken or not as a whole by what the line says otherwise than the stand-in: the surrogate transition
  /// method (Liu, Monte Carlo Strategies in Scientific Computing (2001), section 9.4.3). Costs a solve a step.
  void correct(Evidence& evidence, std::size_t count);
  /// Moves each sample on `rounds` times there.
  void move_on(Evidence& evidence, int rounds);

  const std::vector<Point>& points() const { return points_; }
  int temperatures = 0;
  std::size_t taken = 0, tried = 0;

 private:
  bool evaluate(Point& point);
  double next_temperature(double t) const;
  void draw_again(const std::vector<double>& log_weights);

  // A sample on the move: where it stands and, below t = 1, the mixture's log density there.
  double log_mixture(const Eigen::VectorXd& z, double t) const { return t < 1.0 ? mixture_->log_density(z) : 0.0; }
  bool accept(double log_ratio);
  void sweep(Point& point, double t, int times);
  void refresh(Stand& stand, double& mixture, double t, Eigen::Index k);
  void counterweigh(Stand& stand, double& mixture, double t);
  bool put_counterweight(const Stand& stand, const Eigen::VectorXd& w, Eigen::Index a,
                         std::span<const Eigen::Index> others, double pump);
  void exchange(Stand& stand, double& mixture, double t);
  void share(Stand& stand, double& mixture, double t);
  void start_afresh(Stand& stand, double& mixture, double t);
  void newton(Stand& stand, double& mixture, double t);
  /// Goes to scratch_, where the stand-in was asked, with that log ratio of densities besides the target's.
  void go(Stand& stand, double& mixture, double t, double log_ratio);
  bool linearise(Linear& linear);
  void any_move(Stand& stand);
  void correct_all(Evidence& evidence, double t);
  double leak(std::size_t unknown, double z) const;
  double leak_slope(std::size_t unknown, double z) const;

  const StandIn* stand_in_;
  const Suspects* suspects_;
  const Mixture* mixture_;
  Normals normals_;
  std::vector<Point> points_;
  std::vector<std::size_t> leaks_;      // unknowns that can be exchanged
  std::vector<Eigen::Index> informed_;  // unknowns that any reading depends on
  int steps_ = 8;                       // of the stand-in's, to one of the line's
  Stand scratch_;
  Step step_;
  Eigen::VectorXd r_, w_;
  Eigen::MatrixXd slopes_;
};

}  // namespace airtally::hunt
