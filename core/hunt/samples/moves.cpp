#include <algorithm>
#include <array>

#include "hunt/samples/population_private.hpp"

namespace airtally::hunt {
namespace {

/// Share of the old point that a step keeps: long steps where the posterior is nearly normal, short ones where it
/// bends.
constexpr double kept_shares[] = {0.0, 0.5, 0.8, 0.95};
constexpr double refresh_shares[] = {0.0, 0.6, 0.9, 0.99};
constexpr std::size_t few_anchors = 3;  ///< the best peaks, where the sampling starts from
constexpr int exchanges = 2;
constexpr int sharings = 6;

}  // namespace

bool Population::accept(double log_ratio) {
  ++tried;
  const double chance = 1.0 - normals_.uniform();
  if (!(log_ratio >= 0.0) && !(std::log(chance) < log_ratio)) return false;
  ++taken;
  return true;
}

void Population::go(Stand& stand, double& mixture, double t, double log_ratio) {
  const double there = log_mixture(scratch_.z, t);
  const double ratio =
      log_ratio + t * (scratch_.log_posterior() - stand.log_posterior()) + (1.0 - t) * (there - mixture);
  if (!accept(ratio)) return;
  std::swap(stand, scratch_);
  mixture = there;
}

void Population::sweep(Point& point, double t, int times) {
  Stand stand;
  if (!put(*stand_in_, point.z, stand)) return;
  double mixture = log_mixture(stand.z, t);
  for (int time = 0; time < times; ++time) {
    for (const Eigen::Index k : informed_) refresh(stand, mixture, t, k);
    for (std::size_t k = 0; k < informed_.size(); ++k) counterweigh(stand, mixture, t);
    for (int k = 0; k < exchanges; ++k) exchange(stand, mixture, t);
    for (int k = 0; k < sharings; ++k) share(stand, mixture, t);
    start_afresh(stand, mixture, t);
    newton(stand, mixture, t);
  }
  // What no reading depends on has its prior, in the mixture too, and need not be asked for.
  for (Eigen::Index k = 0; k < stand.z.size(); ++k)
    if (!mixture_->informed(k)) stand.z[k] = normals_.normal();
  point.z = stand.z;
  evaluate(point);
}

void Population::refresh(Stand& stand, double& mixture, double t, Eigen::Index k) {
  const double kept = refresh_shares[normals_.below(std::size(refresh_shares))];
  const double old = stand.z[k], z = kept * old + std::sqrt(1.0 - kept * kept) * normals_.normal();
  const double prior = 0.5 * (z * z - old * old);
  if (k == stand_in_->pump()) {
    Eigen::VectorXd there = stand.z;
    there[k] = z;
    if (put(*stand_in_, there, scratch_)) go(stand, mixture, t, prior);
    return;
  }
  try_step(*stand_in_, stand, k, z, step_);
  double there = 0.0;
  if (t < 1.0) {
    stand.z[k] = z;
    there = mixture_->log_density(stand.z);
    stand.z[k] = old;
  }
  if (!accept(prior + t * (step_.log_posterior() - stand.log_posterior()) + (1.0 - t) * (there - mixture))) return;
  take(stand, step_);
  mixture = there;
}

namespace {

/// Moves the coordinates of `others` against a step of a's, so that the readings stay as far as these can.
void balance(const StandIn::Anchor& anchor, Eigen::Index a, std::span<const Eigen::Index> others, double step,
             Eigen::VectorXd& w) {
  const auto count = static_cast<Eigen::Index>(others.size());
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, 3, 3> gram(count, count);
  Eigen::Matrix<double, Eigen::Dynamic, 1, 0, 3, 1> pull(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    for (Eigen::Index j = 0; j < count; ++j) gram(i, j) = anchor.gram(others[i], others[j]);
    gram(i, i) += anchor.loose[others[i]];
    pull[i] = anchor.gram(others[i], a);
  }
  pull = gram.ldlt().solve(pull).eval();
  for (Eigen::Index i = 0; i < count; ++i) w[others[i]] -= step * pull[i];
}

}  // namespace

/// Unknown a is drawn by an autoregressive step of its prior, at the pump's factor as it is; with the step d of its
/// coordinate, the coordinates of a few others B move by -(G_BB + L)^-1 G_Ba d, G the anchor's J^T J and L what their
/// priors hold against it. The anchor is one of the peaks, whatever the stand, or the nearest, as long as that stays
/// the same; so this is a shear, which keeps volume in the coordinates, and the same both ways, and what counts is the
/// target's density in the coordinates, and that of the draw.
void Population::counterweigh(Stand& stand, double& mixture, double t) {
  const bool nearest = normals_.uniform() < 0.5;
  const std::size_t peaks = std::min(stand_in_->anchors().size(), few_anchors);
  const StandIn::Anchor& anchor =
      stand_in_->anchors()[nearest ? static_cast<std::size_t>(stand.anchor) : normals_.below(peaks)];
  const Eigen::Index a = informed_[normals_.below(informed_.size())], n = stand.z.size();
  if (!(anchor.kinship(n - 1, a) > 0.0)) return;
  std::array<Eigen::Index, 3> others{};
  const std::size_t wanted = normals_.below(others.size() + 1);  // 0: all
  std::size_t count = 0;
  for (std::size_t k = 0; k < wanted; ++k) {
    const auto* first = anchor.kinship.col(a).data();
    const Eigen::Index b =
        std::min<Eigen::Index>(std::upper_bound(first, first + n, normals_.uniform()) - first, n - 1);
    if (b != a && std::find(others.begin(), others.begin() + count, b) == others.begin() + count) others[count++] = b;
  }
  const double kept = refresh_shares[normals_.below(std::size(refresh_shares))];
  const double pump = stand_in_->pump() < 0 ? 1.0 : stand.values[stand_in_->pump()];
  const Prior& prior = suspects_->unknowns[static_cast<std::size_t>(a)].prior;
  const double drawn = kept * stand.z[a] + std::sqrt(1.0 - kept * kept) * normals_.normal();
  const double drawn_value = prior.at(drawn);
  Eigen::VectorXd& w = w_;
  w = stand.w;
  w[a] = stand_in_->coordinate(a, drawn_value, pump);
  const double step = w[a] - stand.w[a];
  bool there = false;
  if (wanted == 0) {
    const double own = w[a];
    w.noalias() += step * anchor.yield.col(a);
    w[a] = own;
    there = put_coordinates(*stand_in_, stand, w, scratch_);
  } else {
    balance(anchor, a, {others.data(), count}, step, w);
    there = put_counterweight(stand, w, a, {others.data(), count}, pump);
  }
  if (!there || (nearest && scratch_.anchor != stand.anchor)) return;
  // The way back draws the old coordinate at the new pump's factor.
  const double new_pump = stand_in_->pump() < 0 ? 1.0 : scratch_.values[stand_in_->pump()];
  const double back_value = stand_in_->value(a, stand.w[a], new_pump), back = prior.z_of(back_value);
  if (!(std::fabs(back) < farthest)) return;
  const auto log_draw = [&](double from, double to) {
    const double away = to - kept * from;
    return -0.5 * away * away / (1.0 - kept * kept);
  };
  const double stretched = stand_in_->stretch(a, drawn, drawn_value, w[a], pump) /
                           stand_in_->stretch(a, back, back_value, stand.w[a], new_pump);
  const double ratio = log_draw(scratch_.z[a], back) - log_draw(stand.z[a], drawn) +
                       std::log(std::fabs(stretched) * stand.stretch_over(scratch_));
  if (std::isfinite(ratio)) go(stand, mixture, t, ratio);
}

/// Puts scratch_ at the coordinates w, which are those of `stand` but for `a` and `others`.
bool Population::put_counterweight(const Stand& stand, const Eigen::VectorXd& w, Eigen::Index a,
                                   std::span<const Eigen::Index> others, double pump) {
  std::array<Eigen::Index, 4> moved{a};
  std::copy(others.begin(), others.end(), moved.begin() + 1);
  const std::span<const Eigen::Index> all(moved.data(), others.size() + 1);
  if (std::find(all.begin(), all.end(), stand_in_->pump()) != all.end())
    return put_coordinates(*stand_in_, stand, w, scratch_);
  std::array<double, 4> z{};
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Prior& prior = suspects_->unknowns[static_cast<std::size_t>(all[i])].prior;
    z[i] = prior.z_of(stand_in_->value(all[i], w[all[i]], pump));
    if (!(std::fabs(z[i]) < farthest)) return false;
  }
  return put_some(*stand_in_, stand, all, {z.data(), all.size()}, scratch_);
}

void Population::start_afresh(Stand& stand, double& mixture, double t) {
  if (!put(*stand_in_, mixture_->draw(normals_), scratch_)) return;
  const double drawn = mixture_->log_density(scratch_.z) - mixture_->log_density(stand.z);
  go(stand, mixture, t, -drawn);
}

bool Population::linearise(Linear& linear) {
  const Stand& s = linear.stand;
  stand_in_->linearise(stand_in_->anchors()[static_cast<std::size_t>(s.anchor)], s.eta, s.values, s.w, s.dw,
                       s.moved[s.anchor], r_, slopes_);
  if (!slopes_.allFinite()) return false;
  const Eigen::Index n = s.z.size();
  Eigen::MatrixXd precision = Eigen::MatrixXd::Identity(n, n);
  precision.selfadjointView<Eigen::Upper>().rankUpdate(slopes_.transpose());
  const Eigen::LLT<Eigen::MatrixXd, Eigen::Upper> cholesky(precision);
  linear.factor = cholesky.matrixU();
  linear.log_det = linear.factor.diagonal().array().log().sum();
  linear.newton = -cholesky.solve(slopes_.transpose() * r_ + s.z);
  return true;
}

void Population::newton(Stand& stand, double& mixture, double t) {
  Linear here, there;
  here.stand = stand;
  if (!linearise(here)) return;
  const double kept = kept_shares[normals_.below(std::size(kept_shares))];
  // Log density of a step that keeps the share `kept` of where it starts, up to a constant.
  const auto log_step = [&](const Linear& a, const Linear& b) {
    const Eigen::VectorXd away = b.stand.z - a.stand.z - (1.0 - kept) * a.newton;
    return a.log_det - 0.5 * (a.factor.triangularView<Eigen::Upper>() * away).squaredNorm() / (1.0 - kept * kept);
  };
  const Eigen::VectorXd z =
      here.stand.z + (1.0 - kept) * here.newton +
      std::sqrt(1.0 - kept * kept) * here.factor.triangularView<Eigen::Upper>().solve(normals_.normals(stand.z.size()));
  if (!put(*stand_in_, z, there.stand) || !linearise(there)) return;
  const double ratio = log_step(there, here) - log_step(here, there);
  scratch_ = there.stand;
  go(stand, mixture, t, ratio);
}

}  // namespace airtally::hunt
