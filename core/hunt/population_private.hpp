#pragma once
#include <Eigen/Dense>
#include <functional>
#include <vector>

#include "hunt/mixture_private.hpp"
#include "hunt/sample.hpp"

namespace airtally::hunt {

/// One sample on its way from the normal mixture to the posterior.
struct Point {
  Eigen::VectorXd z;
  double log_posterior = 0.0;
  double log_mixture = 0.0;
};

/// A sample with the linearisation of the posterior around it.
struct Linear {
  Point point;
  Eigen::VectorXd newton;  ///< step to the peak of the linearised posterior
  Eigen::MatrixXd factor;  ///< U with U^T U = I + J^T J
  double log_det = 0.0;    ///< of U
};

/// A population of samples that is led from the mixture (t = 0) to the posterior (t = 1) through
/// mixture^(1-t) posterior^t.
///
/// A sweep moves each sample by four kinds of Metropolis steps. Refresh: one unknown at a time takes an autoregressive
/// step of its prior, which suits all that the readings say little about. Exchange: two elements swap their leaks,
/// which carries look-alikes from one peak to the other. Fresh start: a draw from the mixture. Newton: all unknowns
/// together along the local linearisation, which suits what the readings pin down.
class Population {
 public:
  Population(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench, const Mixture& mixture,
             std::size_t count, std::uint64_t seed);

  void run(const SampleOptions& options, const std::function<void(double)>& progress);

  const std::vector<Point>& points() const { return points_; }
  int temperatures = 0;
  std::size_t taken = 0, tried = 0;
  std::size_t evaluations() const { return evidence_.evaluations; }

 private:
  bool evaluate(Point& point);
  bool linearise(Eigen::VectorXd z, Linear& linear);
  double next_temperature(double t) const;
  void draw_again(double step);
  double log_target(const Point& p, double t) const { return t * p.log_posterior + (1.0 - t) * p.log_mixture; }
  /// Takes `there` for `point` with probability e^log_ratio.
  bool accept(Point& point, Point&& there, double log_ratio);
  void sweep(Point& point, double t);
  void refresh(Point& point, double t, Eigen::Index k);
  void exchange(Point& point, double t);
  void start_afresh(Point& point, double t);
  void newton(Linear& here, double t);

  const Suspects* suspects_;
  Evidence evidence_;
  const Mixture* mixture_;
  Normals normals_;
  std::vector<Point> points_;
  std::vector<std::size_t> leaks_;  // unknowns that can be exchanged
  Eigen::VectorXd r_;
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> slopes_;
};

}  // namespace airtally::hunt
