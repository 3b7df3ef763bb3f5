#pragma once
#include <Eigen/Dense>
#include <vector>

#include "hunt/fit/modes.hpp"
#include "hunt/samples/normals_private.hpp"
#include "hunt/samples/probe_private.hpp"

namespace airtally::hunt {

/// The mixture of the normal distributions at the peaks, each with its mass.
class Mixture {
 public:
  explicit Mixture(const std::vector<Mode>& modes);
  /// Deals a share of it out evenly among normal distributions at places in the tails, each as wide as the posterior
  /// linearised there: few samples start there, which is more than none. Solved with slopes.
  void add(const std::vector<Probe>& tails);

  Eigen::VectorXd draw(Normals& normals) const;
  /// Log density, up to the constant (2 pi)^(-n/2).
  double log_density(const Eigen::VectorXd& z) const;
  /// Whether any reading depends on unknown k, as far as the peaks tell.
  bool informed(Eigen::Index k) const { return informed_[static_cast<std::size_t>(k)]; }

 private:
  struct Component {
    Eigen::VectorXd centre;
    Eigen::MatrixXd factor;  ///< upper triangular U with U^T U the precision
    double share;            ///< cumulative
    double log_weight;       ///< of the share and the determinant
  };
  std::vector<Component> components_;
  std::vector<bool> informed_;
};

/// log of the sum of exponentials.
double log_sum(const std::vector<double>& logs);

}  // namespace airtally::hunt
