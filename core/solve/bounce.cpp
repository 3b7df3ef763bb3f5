#include "solve/bounce.hpp"

#include <algorithm>
#include <cmath>

namespace airtally::solve {

void Bounce::watch(std::span<const double> drops, double step) {
  longest_ = std::max(longest_, step);
  for (std::size_t k = 0; k < last_.size(); ++k) {
    const double drop = drops[k];
    const bool flips = drop * last_[k] < 0.0 && std::fabs(drop) < reach;
    flips_[k] = flips ? flips_[k] + 1 : 0;
    const bool crawls = step < crawl * longest_ && drop != 0.0 && std::fabs(drop) < reach;
    crawls_[k] = crawls ? crawls_[k] + 1 : 0;
    if (flips_[k] >= patience || crawls_[k] >= crawl_patience) eased_[k] = true;
    last_[k] = drop;
  }
}

std::size_t Bounce::eased() const { return static_cast<std::size_t>(std::count(eased_.begin(), eased_.end(), true)); }

laws::Flow eased_flow(const Path& path, double pa, double pb, const gas::Air& air, double short_conductance,
                      double& guess) {
  const double drop = pa - pb, way = drop < 0.0 ? -1.0 : 1.0;
  const laws::Flow edge = path_flow(path, path_ends(path, pb + way * Bounce::reach, pb), air, short_conductance, guess);
  // m = s m_e(pb + way reach, pb) with s = |drop|/reach.
  const double s = std::fabs(drop) / Bounce::reach, by_drop = way * edge.m / Bounce::reach;
  return {s * edge.m, by_drop, s * (edge.dm_dp1 + edge.dm_dp2) - by_drop};
}

}  // namespace airtally::solve
