#include "hunt/fit/quality.hpp"

#include <Eigen/Dense>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>

#include "errors.hpp"

namespace airtally::hunt {
namespace {

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

constexpr double too_unlikely = 0.01;
constexpr double least_freedom = 1e-3;  ///< below it the fit follows every reading, and misfit says nothing

}  // namespace

double chi_square_chance(double value, double freedom) {
  return boost::math::gamma_q(0.5 * freedom, 0.5 * value, InDouble());
}

Quality quality_of(const Mode& mode, Evidence& evidence) {
  Quality quality;
  const auto m = static_cast<Eigen::Index>(evidence.size());
  if (m == 0) return quality;
  const auto n = static_cast<Eigen::Index>(mode.z.size());
  Eigen::VectorXd r(m);
  Matrix slopes(m, n);
  if (!evidence.evaluate(mode.z, {r.data(), evidence.size()}, {slopes.data(), evidence.size() * mode.z.size()}))
    throw NoConvergence("The line can't be solved at its best fit.");
  const Eigen::SelfAdjointEigenSolver<Matrix> spectrum(slopes * slopes.transpose(), Eigen::EigenvaluesOnly);
  double sum = 0.0, squares = 0.0;
  for (Eigen::Index i = 0; i < m; ++i) {
    const double left = 1.0 / (1.0 + std::max(spectrum.eigenvalues()[i], 0.0));
    sum += left;
    squares += left * left;
  }
  quality.chi_square = mode.misfit;
  quality.freedom = sum;
  // A fault is rare, so what tells of one is unlikely by the priors; that is no misfit as long as the best state of the
  // line gives what was read. So at least one degree of freedom is granted to the instruments' own noise.
  if (sum > least_freedom)
    quality.chance = std::max(chi_square_chance(mode.misfit * sum / squares, sum * sum / squares),
                              chi_square_chance(mode.misfit, std::max(sum, 1.0)));
  quality.bad = quality.chance < too_unlikely;
  for (Eigen::Index i = 0; i < m; ++i) {
    const auto k = static_cast<std::size_t>(i);
    const double deviations = r[i] / std::sqrt(std::max(1.0 - mode.leverage[k], least_freedom));
    if (quality.worst && std::fabs(deviations) <= std::fabs(quality.worst_deviations)) continue;
    quality.worst = k;
    quality.worst_deviations = deviations;
    quality.worst_misfit = r[i] * evidence.noise()[k];
  }
  return quality;
}

}  // namespace airtally::hunt
