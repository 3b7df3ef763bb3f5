#pragma once
#include <Eigen/Dense>
#include <cmath>
#include <numbers>

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

}  // namespace airtally::hunt
