#include "study/sense_own_gap.hpp"

#include <algorithm>

#include "laws/detection.hpp"

namespace airtally::study {
namespace {

constexpr int stretches_of_range = 8;
// One part in a billion lies beyond 6 deviations. What goes by is far from proportional to the gap out there - with its
// cube where the gap is close - so a normal scatter of the vacuum would miss the seldom ones by powers of ten.
constexpr int stretches_of_tolerance = 130;
constexpr double farthest_gap = 6.5;  // deviations

/// Share of a normal distribution between two distances from its mean, in deviations, exact however far out.
double share_between(double from, double to) {
  return from > 0.0 ? laws::upper_tail(from) - laws::upper_tail(to) : laws::upper_tail(-to) - laws::upper_tail(-from);
}

}  // namespace

OwnGap::OwnGap(const line::Line& line, solve::Network network, std::size_t nozzle, const solve::Pressures& x) {
  const units::Quantity& gap = line.part->gap;
  if (gap.is_exact()) return;
  const bool normal = gap.spread == units::Spread::normal;
  const int stretches = normal ? stretches_of_tolerance : stretches_of_range;
  const double reach = normal ? farthest_gap * gap.standard_deviation() : 0.5 * (gap.high - gap.low);
  const double middle = normal ? gap.value : 0.5 * (gap.low + gap.high);
  const auto place = [&](int k) { return 2.0 * k / stretches - 1.0; };  // -1 to 1
  solve::Steady steady(network);
  solve::Pressures now = x;
  for (int k = 0; k <= stretches; ++k) {
    set_gap(network, nozzle, middle + place(k) * reach);
    steady.resolve(network, now);
    std::vector<double>& off = off_.emplace_back();
    for (const int node : network.node_of) off.push_back((x.p[node] - now.p[node]) + (x.low[node] - now.low[node]));
    if (k == stretches) break;
    shares_.push_back(normal ? share_between(place(k) * farthest_gap, place(k + 1) * farthest_gap) : 1.0 / stretches);
  }
  double all = 0.0;
  for (const double share : shares_) all += share;
  for (double& share : shares_) share /= all;
}

Stretches OwnGap::at(std::size_t element) const {
  Stretches all;
  for (std::size_t k = 0; k < shares_.size(); ++k) {
    const auto [from, to] = std::minmax(off_[k].at(element), off_[k + 1].at(element));
    all.push_back({from, to, shares_[k]});
  }
  return all;
}

void set_gap(solve::Network& network, std::size_t nozzle, double gap) {
  for (int k : network.paths_of[network.nozzles[nozzle]]) {
    solve::Path& path = network.paths[k];
    auto* face = std::get_if<laws::FaceGap>(&path.law);
    if (path.role != solve::Role::seal || face == nullptr) continue;
    face->gap = std::max(gap, 1e-9);  // the law has none for a perfect seal
  }
}

}  // namespace airtally::study
