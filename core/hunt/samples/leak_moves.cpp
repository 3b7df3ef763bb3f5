#include <algorithm>
#include <array>
#include <cmath>

#include "hunt/samples/population_private.hpp"

// Steps that carry a leak from one element to another, which look alike to the readings or nearly so.

namespace airtally::hunt {

double Population::leak(std::size_t unknown, double z) const {
  const Unknown& u = suspects_->unknowns[unknown];
  return u.prior.at(z) * suspects_->leak_at_one[u.element];
}

double Population::leak_slope(std::size_t unknown, double z) const {
  const Unknown& u = suspects_->unknowns[unknown];
  return u.prior.slope(z) * suspects_->leak_at_one[u.element];
}

void Population::exchange(Stand& stand, double& mixture, double t) {
  if (leaks_.size() < 2) return;
  const std::size_t a = leaks_[normals_.below(leaks_.size())], b = leaks_[normals_.below(leaks_.size())];
  if (a == b) return;
  const auto ka = static_cast<Eigen::Index>(a), kb = static_cast<Eigen::Index>(b);
  const auto z_of = [&](std::size_t unknown, double leak) {
    const Unknown& u = suspects_->unknowns[unknown];
    return u.prior.z_of(leak / suspects_->leak_at_one[u.element]);
  };
  const std::array<double, 2> z{z_of(a, leak(b, stand.z[kb])), z_of(b, leak(a, stand.z[ka]))};
  if (!(std::fabs(z[0]) < farthest) || !(std::fabs(z[1]) < farthest))
    return;  // beyond what a prior can take, or all but
  const std::array<Eigen::Index, 2> both{ka, kb};
  if (!put_some(*stand_in_, stand, both, z, scratch_)) return;
  // The map is its own inverse; what volume it takes is that of the leaks with z, before over after.
  const double ratio =
      std::log(leak_slope(a, stand.z[ka]) * leak_slope(b, stand.z[kb]) / (leak_slope(a, z[0]) * leak_slope(b, z[1])));
  if (std::isfinite(ratio)) go(stand, mixture, t, ratio);
}

/// With the sum S of two leaks kept, one of the two, either alike, is drawn from its prior and the other takes the
/// rest. The density of such a draw, q = (p_a(l_a) + p_b(S - l_a))/2, hangs on S alone and so serves both ways; the
/// target's density in the leaks is that in z over their slopes with z.
void Population::share(Stand& stand, double& mixture, double t) {
  if (leaks_.size() < 2) return;
  const std::size_t a = leaks_[normals_.below(leaks_.size())], b = leaks_[normals_.below(leaks_.size())];
  if (a == b) return;
  const auto ka = static_cast<Eigen::Index>(a), kb = static_cast<Eigen::Index>(b);
  const double sum = leak(a, stand.z[ka]) + leak(b, stand.z[kb]);
  const bool first = normals_.uniform() < 0.5;
  const std::array<Eigen::Index, 2> both{first ? ka : kb, first ? kb : ka};
  std::array<double, 2> z{normals_.normal(), 0.0};
  const double rest = sum - leak(first ? a : b, z[0]);
  if (!(rest > 0.0)) return;
  const Unknown& unknown = suspects_->unknowns[first ? b : a];
  z[1] = unknown.prior.z_of(rest / suspects_->leak_at_one[unknown.element]);
  if (!(std::fabs(z[1]) < farthest)) return;  // beyond what its prior can take, or all but
  if (!put_some(*stand_in_, stand, both, z, scratch_)) return;
  const auto log_stretch = [&](const Eigen::VectorXd& p) {  // of the leaks with z
    return std::log(leak_slope(a, p[ka])) + std::log(leak_slope(b, p[kb]));
  };
  const auto log_draw = [&](const Eigen::VectorXd& p) {
    const double la = -0.5 * p[ka] * p[ka] - std::log(leak_slope(a, p[ka]));
    const double lb = -0.5 * p[kb] * p[kb] - std::log(leak_slope(b, p[kb]));
    return std::max(la, lb) + std::log1p(std::exp(-std::fabs(la - lb)));
  };
  const double ratio = log_stretch(stand.z) - log_stretch(scratch_.z) + log_draw(stand.z) - log_draw(scratch_.z);
  if (std::isfinite(ratio)) go(stand, mixture, t, ratio);
}

}  // namespace airtally::hunt
