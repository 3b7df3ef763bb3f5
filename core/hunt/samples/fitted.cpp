#include <algorithm>
#include <cmath>

#include "hunt/samples/fitted_private.hpp"

namespace airtally::hunt {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int most_steps = 30;
constexpr int most_dampings = 6;
constexpr double solved_to = 1e-5;  ///< norm of the equations, in standard deviations
constexpr double no_draw = 8.0;     ///< z that no draw has

}  // namespace

Fitted::Fitted(Evidence& evidence, const std::vector<Mode>& modes) : evidence_(&evidence) {
  std::vector<double> logs;
  for (const Mode& mode : modes) logs.push_back(mode.log_evidence);
  const double total = log_sum(logs);
  double share = 0.0;
  for (const Mode& mode : modes) {
    State state;
    state.z = VectorXd::Map(mode.z.data(), static_cast<Index>(mode.z.size()));
    if (!evaluate(state)) continue;
    const Eigen::JacobiSVD<MatrixXd> svd(state.slopes, Eigen::ComputeThinU | Eigen::ComputeThinV);
    // A little is dealt out evenly: the mass under a normal distribution may be far from the peak's own.
    const double own = 0.95 * std::exp(mode.log_evidence - total) + 0.05 / static_cast<double>(modes.size());
    share += own;
    const VectorXd scale = (1.0 + svd.singularValues().array().square()).sqrt();
    peaks_.push_back({state.z, svd.matrixV().transpose() * state.z, svd.matrixU(), svd.matrixV(), svd.singularValues(),
                      scale, share, std::log(own)});
  }
}

VectorXd Fitted::Peak::equations(const VectorXd& a, const VectorXd& residuals) const {
  return (a + singular.asDiagonal() * (left.transpose() * residuals)).cwiseQuotient(scale);
}

MatrixXd Fitted::Peak::jacobian(const Slopes& slopes) const {
  MatrixXd all = singular.asDiagonal() * (left.transpose() * (slopes * right));
  all.diagonal().array() += 1.0;
  return scale.cwiseInverse().asDiagonal() * all;
}

bool Fitted::evaluate(State& state) {
  const auto m = static_cast<Index>(evidence_->size());
  state.residuals.resize(m);
  state.slopes.resize(m, state.z.size());
  return state.z.allFinite() && state.z.cwiseAbs().maxCoeff() < no_draw &&
         evidence_->evaluate({state.z.data(), static_cast<std::size_t>(state.z.size())},
                             {state.residuals.data(), evidence_->size()},
                             {state.slopes.data(), static_cast<std::size_t>(state.slopes.size())}) &&
         state.residuals.allFinite() && state.slopes.allFinite();
}

/// Newton's steps, damped as Levenberg's where they don't bring the equations down.
std::optional<Fitted::State> Fitted::solved_from(const Peak& peak, const VectorXd& rest, const VectorXd& x,
                                                 VectorXd a) {
  const auto at = [&](VectorXd where) -> std::optional<State> {
    State state;
    state.a = std::move(where);
    state.z = rest + peak.right * state.a;
    if (!evaluate(state)) return std::nullopt;
    state.wrong = peak.equations(state.a, state.residuals) - x;
    return state;
  };
  std::optional<State> now = at(std::move(a));
  double damping = 0.0;
  for (int step = 0; now && step < most_steps; ++step) {
    if (now->wrong.norm() < solved_to) return now;
    const MatrixXd jacobian = peak.jacobian(now->slopes);
    if (!jacobian.allFinite()) break;
    MatrixXd normal = jacobian.transpose() * jacobian;
    bool moved = false;
    for (int more = 0; more < most_dampings && !moved; ++more) {
      MatrixXd damped = normal;
      damped.diagonal().array() += damping;
      const VectorXd change = damping > 0.0 ? VectorXd(damped.ldlt().solve(jacobian.transpose() * now->wrong))
                                            : VectorXd(jacobian.householderQr().solve(now->wrong));
      std::optional<State> next = at(now->a - change);
      moved = next && next->wrong.norm() < 0.95 * now->wrong.norm();
      if (moved) {
        now = std::move(next);
        damping = damping < 1e-4 ? 0.0 : 0.1 * damping;
      } else {
        damping = damping > 0.0 ? 10.0 * damping : 1e-3 * normal.trace() / static_cast<double>(normal.rows());
      }
    }
    if (!moved) break;
  }
  return std::nullopt;
}

/// From where the line would be if it were linear; then from this peak, from nowhere, and from the others.
std::optional<Fitted::State> Fitted::solved(const Peak& peak, const VectorXd& rest, const VectorXd& x) {
  std::vector<VectorXd> starts{peak.known + x.cwiseQuotient(peak.scale), peak.known, x};
  for (const Peak& other : peaks_) starts.push_back(peak.right.transpose() * other.centre);
  for (VectorXd& start : starts)
    if (std::optional<State> state = solved_from(peak, rest, x, std::move(start))) return state;
  return std::nullopt;
}

/// Of the mixture, up to (2 pi)^(-n/2).
double Fitted::log_density(const State& state) const {
  std::vector<double> logs;
  for (const Peak& peak : peaks_) {
    const VectorXd known = peak.right.transpose() * state.z;
    const double square =
        state.z.squaredNorm() - known.squaredNorm() + peak.equations(known, state.residuals).squaredNorm();
    const double volume = peak.jacobian(state.slopes).householderQr().absDeterminant();
    logs.push_back(peak.log_share + std::log(volume > 1e-300 ? volume : 1e-300) - 0.5 * square);
  }
  return log_sum(logs);
}

std::optional<Fitted::Draw> Fitted::draw(double at, Normals& normals) {
  if (peaks_.empty()) return std::nullopt;
  const double u = at * peaks_.back().share;
  const auto peak = std::find_if(peaks_.begin(), peaks_.end() - 1, [&](const Peak& p) { return u < p.share; });
  const VectorXd drawn = normals.normals(peak->right.rows());
  const VectorXd x = peak->right.transpose() * drawn;
  const std::optional<State> state = solved(*peak, drawn - peak->right * x, x);
  if (!state) return std::nullopt;
  const double log_posterior = -0.5 * (state->z.squaredNorm() + state->residuals.squaredNorm());
  const double log_weight = log_posterior - log_density(*state);
  return std::isfinite(log_weight) ? std::optional(Draw{state->z, log_weight}) : std::nullopt;
}

}  // namespace airtally::hunt
