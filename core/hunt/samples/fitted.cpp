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
constexpr double solved_to = 1e-5;          ///< norm of the equations, in standard deviations
constexpr double no_draw = 8.0;             ///< z that no draw has
constexpr std::size_t best_starts = 3;      ///< of those that are known, beside the first
constexpr int scattered = 6;                ///< starts where no other leads to a solution
constexpr std::size_t enough_in_vain = 24;  ///< times without a solution, and never one, after which they are left out
constexpr double far = 1.5;                 ///< standard deviation of these
constexpr std::uint64_t scattering = 20;    ///< seed of these
constexpr double of_added = 0.3;            ///< share of what add() adds
constexpr double counts = 0.01;             ///< of the greatest density: below that it is not asked whose it is
constexpr double same = 1e-2;               ///< distance of two states that are one [standard deviations]

double log_sum(const std::vector<double>& logs) {
  const double top = *std::max_element(logs.begin(), logs.end());
  double sum = 0.0;
  for (double value : logs) sum += std::exp(value - top);
  return top + std::log(sum);
}

}  // namespace

Fitted::Fitted(Evidence& evidence, const std::vector<Mode>& modes) : evidence_(&evidence) {
  std::vector<double> logs;
  for (const Mode& mode : modes) logs.push_back(mode.log_evidence);
  const double total = log_sum(logs);
  Normals normals(scattering);
  for (int start = 0; start < scattered; ++start)
    scattered_.push_back(far * normals.normals(static_cast<Index>(evidence.size())));
  for (const Mode& mode : modes) {
    // A little is dealt out evenly: the mass under a normal distribution may be far from the peak's own.
    const double own = 0.95 * std::exp(mode.log_evidence - total) + 0.05 / static_cast<double>(modes.size());
    put(VectorXd::Map(mode.z.data(), static_cast<Index>(mode.z.size())), own);
  }
}

void Fitted::add(const std::vector<VectorXd>& centres) {
  late_ = in_vain_ = 0;
  for (Peak& peak : peaks_) {
    peak.share *= 1.0 - of_added;
    peak.log_share += std::log(1.0 - of_added);
  }
  for (const VectorXd& centre : centres) put(centre, of_added / static_cast<double>(centres.size()));
}

void Fitted::put(const VectorXd& centre, double share) {
  State state;
  state.z = centre;
  if (!evaluate(state)) return;
  const Eigen::JacobiSVD<MatrixXd> svd(state.slopes, Eigen::ComputeThinU | Eigen::ComputeThinV);
  const VectorXd scale = (1.0 + svd.singularValues().array().square()).sqrt();
  const double before = peaks_.empty() ? 0.0 : peaks_.back().share;
  peaks_.push_back({state.z, svd.matrixV().transpose() * state.z, svd.matrixU(), svd.matrixV(), svd.singularValues(),
                    scale, before + share, std::log(share)});
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

std::optional<Fitted::State> Fitted::state_at(const Peak& peak, const VectorXd& rest, const VectorXd& x, VectorXd a) {
  State state;
  state.a = std::move(a);
  state.z = rest + peak.right * state.a;
  if (!evaluate(state)) return std::nullopt;
  state.wrong = peak.equations(state.a, state.residuals) - x;
  return state;
}

/// Newton's steps, damped as Levenberg's where they don't bring the equations down.
std::optional<Fitted::State> Fitted::solved_from(const Peak& peak, const VectorXd& rest, const VectorXd& x,
                                                 std::optional<State> now) {
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
      std::optional<State> next = state_at(peak, rest, x, now->a - change);
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

/// From where the line would be if it were linear; then from those of this peak, nowhere and the other peaks where the
/// equations are least wrong; then from points scattered around. The same every time.
std::optional<Fitted::State> Fitted::solved(const Peak& peak, const VectorXd& rest, const VectorXd& x) {
  const auto from = [&](const VectorXd& a) { return state_at(peak, rest, x, a); };
  if (std::optional<State> state = solved_from(peak, rest, x, from(peak.known + x.cwiseQuotient(peak.scale))))
    return state;
  std::vector<State> starts;
  const auto put = [&](const VectorXd& a) {
    if (std::optional<State> state = from(a)) starts.push_back(std::move(*state));
  };
  put(peak.known);
  put(x);
  for (const Peak& other : peaks_)
    if (&other != &peak) put(peak.right.transpose() * other.centre);
  std::stable_sort(starts.begin(), starts.end(),
                   [](const State& a, const State& b) { return a.wrong.squaredNorm() < b.wrong.squaredNorm(); });
  for (std::size_t s = 0; s < std::min(starts.size(), best_starts); ++s)
    if (std::optional<State> state = solved_from(peak, rest, x, std::move(starts[s]))) return state;
  if (!scattered_found_ && in_vain_ >= enough_in_vain) return std::nullopt;
  for (std::size_t start = 0; start < scattered_.size(); ++start)
    if (std::optional<State> state = solved_from(peak, rest, x, from(x + scattered_[start]))) {
      state->late = start >= scattered_.size() / 2;
      scattered_found_ = true;
      return state;
    }
  ++in_vain_;
  return std::nullopt;
}

/// Log of a peak's density at a state, up to (2 pi)^(-n/2), with what it makes of the state: the rest and x.
Fitted::Origin Fitted::origin(const Peak& peak, const State& state) const {
  const VectorXd known = peak.right.transpose() * state.z;
  Origin origin{state.z - peak.right * known, peak.equations(known, state.residuals), 0.0};
  const double volume = peak.jacobian(state.slopes).householderQr().absDeterminant();
  origin.log_density = peak.log_share + std::log(volume > 1e-300 ? volume : 1e-300) -
                       0.5 * (origin.rest.squaredNorm() + origin.x.squaredNorm());
  return origin;
}

/// Of all peaks. Where the equations have several solutions, a hump's two sides say, a peak draws the one that it comes
/// to first, and none of the others: its density counts only where the way back ends at the state.
double Fitted::log_density(const Peak& drawn_from, const State& state) {
  std::vector<Origin> origins;
  double top = -1e300;
  for (const Peak& peak : peaks_) {
    origins.push_back(origin(peak, state));
    top = std::max(top, origins.back().log_density);
  }
  std::vector<double> logs;
  for (std::size_t p = 0; p < peaks_.size(); ++p) {
    const Origin& from = origins[p];
    if (&peaks_[p] != &drawn_from && from.log_density > top + std::log(counts)) {
      const std::optional<State> back = solved(peaks_[p], from.rest, from.x);
      if (!back || (back->z - state.z).norm() > same) continue;
    }
    logs.push_back(from.log_density);
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
  late_ += state->late;
  const double log_posterior = -0.5 * (state->z.squaredNorm() + state->residuals.squaredNorm());
  const double log_weight = log_posterior - log_density(*peak, *state);
  return std::isfinite(log_weight) ? std::optional(Draw{state->z, log_weight}) : std::nullopt;
}

}  // namespace airtally::hunt
