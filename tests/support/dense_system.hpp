#pragma once
#include <Eigen/Dense>
#include <functional>

#include "solve/stiff_system.hpp"

namespace airtally::support {

/// A small stiff system given by its right-hand side and Jacobian, with dense linear algebra: for putting the
/// integrator to published test problems.
class DenseSystem final : public solve::StiffSystem {
 public:
  using Rate = std::function<void(std::span<const double>, std::span<double>)>;
  using Jacobian = std::function<void(std::span<const double>, Eigen::MatrixXd&)>;

  DenseSystem(std::vector<double> mass, Rate rate, Jacobian jacobian)
      : mass_(std::move(mass)),
        rate_(std::move(rate)),
        jacobian_(std::move(jacobian)),
        matrix_(Eigen::MatrixXd::Zero(static_cast<long>(mass_.size()), static_cast<long>(mass_.size()))) {}

  std::size_t size() const override { return mass_.size(); }
  std::span<const double> mass() const override { return mass_; }
  void rate(double, std::span<const double> x, std::span<double> f) override { rate_(x, f); }
  void rate_and_factor(double, std::span<const double> x, double shift, std::span<double> f) override {
    rate_(x, f);
    matrix_.setZero();
    jacobian_(x, matrix_);
    matrix_ = -matrix_;
    for (std::size_t i = 0; i < mass_.size(); ++i) {
      const auto k = static_cast<long>(i);
      matrix_(k, k) += shift * mass_[i];
    }
    lu_.compute(matrix_);
  }
  void solve(std::span<double> b) override {
    Eigen::Map<Eigen::VectorXd> map(b.data(), static_cast<long>(b.size()));
    map = lu_.solve(map.eval());
  }
  bool moves(double, double) const override { return false; }

 private:
  std::vector<double> mass_;
  Rate rate_;
  Jacobian jacobian_;
  Eigen::MatrixXd matrix_;
  Eigen::PartialPivLU<Eigen::MatrixXd> lu_;
};

}  // namespace airtally::support
