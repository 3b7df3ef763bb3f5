// The sparse elimination against Eigen's dense LU.
#include "solve/elimination.hpp"

#include <Eigen/Dense>
#include <catch2/catch.hpp>
#include <cmath>

#include "solve/block_elimination.hpp"
#include "study/random.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;
using solve::Elimination;

namespace {

/// A random network: a tree, and `loops` more pairs, with couplings over twelve decades.
struct Case {
  int n;
  std::vector<std::pair<int, int>> pairs;
  std::vector<double> there, back, excess;
  Eigen::MatrixXd matrix;

  Case(std::uint64_t seed, int size, int loops, double decades) : n(size), excess(static_cast<std::size_t>(size)) {
    study::Random random(seed);
    const auto any = [&](int count) { return static_cast<int>(random.below(static_cast<std::size_t>(count))); };
    for (int i = 1; i < n; ++i) pairs.emplace_back(any(i), i);
    for (int k = 0; k < loops && n > 2; ++k) {
      const int a = any(n), b = any(n);
      if (a != b) pairs.emplace_back(a, b);
    }
    matrix = Eigen::MatrixXd::Zero(n, n);
    for (const auto& [a, b] : pairs) {
      there.push_back(std::pow(10.0, decades * (random.uniform() - 0.5)));
      back.push_back(there.back() * (0.5 + random.uniform()));
      matrix(a, a) += there.back();
      matrix(b, a) -= there.back();
      matrix(b, b) += back.back();
      matrix(a, b) -= back.back();
    }
    for (int i = 0; i < n; ++i) {
      if (i > 0 && random.uniform() < 0.5) continue;
      excess[i] = std::pow(10.0, decades * (random.uniform() - 0.5));
      matrix(i, i) += excess[i];
    }
  }

  Elimination factored() const {
    Elimination e(n, pairs);
    e.clear();
    for (std::size_t k = 0; k < pairs.size(); ++k) {
      const solve::Ordering::Slot slot = e.slot(pairs[k].first, pairs[k].second);
      e.couplings()[slot.from_first] += there[k];
      e.couplings()[slot.from_second] += back[k];
    }
    e.excess() = excess;
    e.factor();
    return e;
  }
};

}  // namespace

TEST_CASE("elimination agrees with dense LU on trees and loops", "[solve][agreement]") {
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    const int n = 1 + static_cast<int>(seed % 40);
    const Case c(seed, n, seed % 2 ? 0 : n / 4, 2.0);
    const Elimination e = c.factored();
    CAPTURE(seed, n);
    Eigen::VectorXd b(n);
    study::Random random(seed + 1000);
    for (int i = 0; i < n; ++i) b[i] = random.uniform() - 0.3;
    const Eigen::PartialPivLU<Eigen::MatrixXd> lu(c.matrix);
    std::vector<double> x(b.data(), b.data() + n);
    e.solve(x);
    const Eigen::VectorXd dense = lu.solve(b);
    // Condition numbers reach some 1e4: 1e-10 leaves two digits of slack.
    for (int i = 0; i < n; ++i) CHECK(std::fabs(x[i] - dense[i]) <= 1e-10 * dense.cwiseAbs().maxCoeff());
    std::vector<double> y(b.data(), b.data() + n);
    e.solve_transposed(y);
    const Eigen::VectorXd transposed = c.matrix.transpose().partialPivLu().solve(b);
    for (int i = 0; i < n; ++i) CHECK(std::fabs(y[i] - transposed[i]) <= 1e-10 * transposed.cwiseAbs().maxCoeff());
    if (seed % 2) CHECK(e.pairs() == static_cast<std::size_t>(n - 1));  // a tree has no fill
  }
}

TEST_CASE("a removed restriction costs no digits", "[solve][closed-form]") {
  // Node 0 loses 1 outside; 0 and 1 are coupled by 1e13, 1 and 2 by 1. All that enters at 2 leaves at 0: x0 = b, x1 = b
  // + 1e-13 b, x2 = x1 + b. LU would form 1 + 1e13 and lose three digits of the 1.
  const std::vector<std::pair<int, int>> pairs{{0, 1}, {1, 2}};
  Elimination e(3, pairs);
  e.clear();
  const auto set = [&](int a, int b, double value) {
    const solve::Ordering::Slot slot = e.slot(a, b);
    e.couplings()[slot.from_first] = e.couplings()[slot.from_second] = value;
  };
  set(0, 1, 1e13);
  set(1, 2, 1.0);
  e.excess()[0] = 1.0 / 3.0;
  e.factor();
  std::vector<double> b{0.0, 0.0, 0.7};
  e.solve(b);
  CHECK_THAT(b[0], WithinRel(2.1, 4e-16));
  CHECK_THAT(b[1], WithinRel(2.1 + 0.7e-13, 4e-16));
  CHECK_THAT(b[2], WithinRel(2.8 + 0.7e-13, 1e-15));
}

TEST_CASE("elimination keeps every digit however far the couplings lie apart", "[solve][property]") {
  // With b >= 0 nothing is ever subtracted, so each entry is right to some rounding errors: checked against Eigen in
  // long double, whose own error is 1e-19 times the condition number (up to 1e12 here).
  using Wide = Eigen::Matrix<long double, Eigen::Dynamic, Eigen::Dynamic>;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const Case c(seed, 12, 3, 8.0);
    std::vector<double> x(12, 0.0);
    x[seed % 12] = 1.0;
    Eigen::Matrix<long double, Eigen::Dynamic, 1> b(12);
    for (int i = 0; i < 12; ++i) b[i] = x[i];
    const Wide exact = c.matrix.cast<long double>();
    Wide sums = exact;  // the diagonal anew, so that it is the sum in the wider format
    for (int j = 0; j < 12; ++j) {
      sums(j, j) = c.excess[j];
      for (int i = 0; i < 12; ++i)
        if (i != j) sums(j, j) -= exact(i, j);
    }
    const auto wide = sums.fullPivLu().solve(b).eval();
    c.factored().solve(x);
    CAPTURE(seed);
    for (int i = 0; i < 12; ++i) CHECK_THAT(x[i], WithinRel(static_cast<double>(wide[i]), 1e-12));
  }
}

TEST_CASE("a place that nothing couples stays as it is", "[solve][closed-form]") {
  const std::vector<std::pair<int, int>> pairs{{0, 1}, {2, 3}};
  Elimination e(5, pairs);
  e.clear();
  const solve::Ordering::Slot slot = e.slot(1, 0);
  e.couplings()[slot.from_first] = e.couplings()[slot.from_second] = 2.0;
  e.excess()[0] = 1.0;
  e.factor();
  std::vector<double> b{0.0, 3.0, 5.0, 6.0, 7.0};
  e.solve(b);
  CHECK_THAT(b[0], WithinRel(3.0, 1e-15));
  CHECK_THAT(b[1], WithinRel(4.5, 1e-15));
  CHECK(b[2] == 0.0);
  CHECK(b[3] == 0.0);
  CHECK(b[4] == 0.0);
}

TEST_CASE("with two unknowns a node, what nothing couples stays as it is, and a block of determinant 1 does not",
          "[solve][closed-form]") {
  const std::vector<std::pair<int, int>> pairs{{0, 1}};
  solve::BlockElimination e(std::make_shared<const solve::Ordering>(3, pairs));
  e.clear();
  e.diagonal()[0] = {2.0, 1.0, 1.0, 1.0};  // determinant 1
  e.diagonal()[1] = {4.0, 0.0, 0.0, 2.0};
  e.factor();
  std::vector<double> b{3.0, 2.0, 8.0, 2.0, 5.0, 6.0};
  e.solve(b);
  CHECK_THAT(b[0], WithinRel(1.0, 1e-15));
  CHECK_THAT(b[1], WithinRel(1.0, 1e-15));
  CHECK_THAT(b[2], WithinRel(2.0, 1e-15));
  CHECK_THAT(b[3], WithinRel(1.0, 1e-15));
  CHECK(b[4] == 0.0);
  CHECK(b[5] == 0.0);
}
