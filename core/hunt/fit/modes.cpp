#include "hunt/fit/modes.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "hunt/fit/ridge.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

constexpr double negligible = 12.0;  ///< a peak with less than e^-12 of the best one's mass is left out
constexpr std::size_t most = 64;     ///< peaks kept: one each of two dozen needles that look alike, and more

/// Starts: nothing wrong; then each leak at a tenth and at eight tenths of what the pumps take, and where an ammeter
/// was read, whose hump may lie there, at three times that (the vacuum is then shallow); each way four fifths closed,
/// each long bore at two fifths of its width, each pump at half its flow or nine tenths of its vacuum.
std::vector<std::vector<double>> starts(const Suspects& suspects, bool ammeter, bool part) {
  double free_flow = 0.0;
  for (const line::Element& e : suspects.line.elements)
    if (e.pump && !e.pump->flow.empty()) free_flow += e.pump->flow.front().value.value;
  const std::vector<double> healthy(suspects.unknowns.size(), 0.0);
  std::vector<std::vector<double>> all{healthy};
  for (std::size_t k = 0; k < suspects.unknowns.size(); ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    std::vector<double> values;
    switch (unknown.what) {
      case What::leak:
        for (double share : {0.1, 0.8, 3.0})
          if (share < 1.0 || ammeter) values.push_back(share * free_flow / suspects.leak_at_one[unknown.element]);
        break;
      case What::blockage:
        values = {0.2};
        break;
      case What::bore:
        values = {0.4};
        break;
      case What::pump_flow:
        values = {0.5};
        break;
      case What::pump_vacuum:
        values = {0.9};
        break;
      case What::seal:
        if (part) values = {100.0};
        break;
      case What::hole_share:
      case What::plate:
      case What::offset:
        break;
    }
    for (double value : values) {
      all.push_back(healthy);
      all.back()[k] = std::clamp(unknown.prior.z_of(value), -4.0, 4.0);
    }
  }
  return all;
}

Mode mode_at(const std::vector<double>& z, Evidence& evidence) {
  const auto n = static_cast<Eigen::Index>(z.size());
  const auto m = static_cast<Eigen::Index>(evidence.size());
  Mode mode;
  mode.z = z;
  Eigen::VectorXd r(m);
  Matrix slopes(m, n);
  if (!evidence.evaluate(z, {r.data(), evidence.size()}, {slopes.data(), evidence.size() * z.size()}))
    throw NoConvergence("The line can't be solved at a peak that its own solves led to.");
  const Matrix precision = Matrix::Identity(n, n) + slopes.transpose() * slopes;
  const Eigen::LLT<Matrix> cholesky(precision);
  mode.misfit = r.squaredNorm();
  mode.cost = mode.misfit + Eigen::Map<const Eigen::VectorXd>(z.data(), n).squaredNorm();
  mode.precision.assign(precision.data(), precision.data() + n * n);
  mode.log_evidence = -0.5 * mode.cost - cholesky.matrixL().toDenseMatrix().diagonal().array().log().sum();
  for (Eigen::Index i = 0; i < m; ++i)
    mode.leverage.push_back(slopes.row(i).dot(cholesky.solve(slopes.row(i).transpose())));
  return mode;
}

/// Where the search from a start ends; no z when it leads nowhere.
Mode peak_from(const std::vector<double>& start, Evidence& evidence, ModeReport& report) {
  const Residuals residuals = [&](std::span<const double> z, std::span<double> r, std::span<double> slopes) {
    return evidence.evaluate(z, r, slopes);
  };
  const Fit fit = ridge(evidence.size(), start, residuals, 120, 1e-7);
  report = {1, fit.evaluations, fit.converged ? 0 : 1};
  // One that is not at a peak may lie in its basin: fit for a sampler all the same.
  if (!fit.converged && !(fit.sum < 1e12)) return {};
  return mode_at(fit.x, evidence);
}

/// Whether the step from one peak to the other is small against the width of the first.
bool same(const Mode& a, const Mode& b) {
  const auto n = static_cast<Eigen::Index>(a.z.size());
  const Eigen::VectorXd step =
      Eigen::Map<const Eigen::VectorXd>(a.z.data(), n) - Eigen::Map<const Eigen::VectorXd>(b.z.data(), n);
  return step.dot(Eigen::Map<const Matrix>(a.precision.data(), n, n) * step) < 0.25;
}

}  // namespace

std::vector<Mode> find_modes(const Suspects& suspects, Evidence& evidence, ModeReport* report) {
  if (evidence.size() == 0) return {mode_at(std::vector<double>(suspects.unknowns.size(), 0.0), evidence)};
  const bool ammeter = std::any_of(evidence.readings().begin(), evidence.readings().end(),
                                   [](const Reading& r) { return r.instrument == Instrument::current; });
  const bool part = std::any_of(evidence.readings().begin(), evidence.readings().end(), [](const Reading& r) {
    return std::count(r.setting.tips.begin(), r.setting.tips.end(), solve::TipState::part) > 0;
  });
  const std::vector<std::vector<double>> all = starts(suspects, ammeter, part);
  std::vector<Mode> reached(all.size());
  std::vector<ModeReport> counted(all.size());
  study::parallel(shares, study::processors(), [&](std::size_t share) {
    Evidence own = evidence.another();
    for (std::size_t i = share; i < all.size(); i += shares) reached[i] = peak_from(all[i], own, counted[i]);
  });
  std::vector<Mode> modes;
  ModeReport counts;
  for (std::size_t i = 0; i < all.size(); ++i) {
    counts.starts += counted[i].starts;
    counts.evaluations += counted[i].evaluations;
    counts.failed += counted[i].failed;
    if (!reached[i].z.empty()) modes.push_back(std::move(reached[i]));
  }
  if (report) *report = counts;
  if (modes.empty())
    throw NoConvergence("the hunt found no state of the line to go with the readings: none of its starts converged.");
  std::sort(modes.begin(), modes.end(), [](const Mode& a, const Mode& b) { return a.log_evidence > b.log_evidence; });
  std::vector<Mode> kept;
  for (Mode& mode : modes) {
    if (kept.size() >= most || mode.log_evidence < modes.front().log_evidence - negligible) break;
    if (std::none_of(kept.begin(), kept.end(), [&](const Mode& k) { return same(k, mode); }))
      kept.push_back(std::move(mode));
  }
  return kept;
}

}  // namespace airtally::hunt
