#pragma once
#include <Eigen/Dense>
#include <cmath>
#include <numbers>
#include <vector>

#include "hunt/modes.hpp"
#include "study/random.hpp"

namespace airtally::hunt {

/// Standard normal numbers in pairs (Box and Muller 1958), the same on every machine.
class Normals {
 public:
  explicit Normals(std::uint64_t seed) : random_(seed) {}

  double uniform() { return random_.uniform(); }
  std::size_t below(std::size_t count) { return random_.below(count); }
  double normal() {
    if (kept_) {
      kept_ = false;
      return spare_;
    }
    const double radius = std::sqrt(-2.0 * std::log1p(-random_.uniform()));
    const double angle = 2.0 * std::numbers::pi * random_.uniform();
    spare_ = radius * std::sin(angle);
    kept_ = true;
    return radius * std::cos(angle);
  }
  Eigen::VectorXd normals(Eigen::Index n) {
    Eigen::VectorXd v(n);
    for (Eigen::Index i = 0; i < n; ++i) v[i] = normal();
    return v;
  }

 private:
  study::Random random_;
  double spare_ = 0.0;
  bool kept_ = false;
};

/// The mixture of the normal distributions at the peaks, each with its mass.
class Mixture {
 public:
  explicit Mixture(const std::vector<Mode>& modes);

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
