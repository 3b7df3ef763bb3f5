#include "solve/path_flow.hpp"

namespace airtally::solve {
namespace {

/// Calls the law of a path; `guess` holds the last flow for the laws that iterate.
struct Call {
  const laws::Ends& ends;
  const gas::Air& air;
  double& guess;
  double close;

  laws::Flow operator()(const laws::Duct& law) const { return remember(laws::duct(law, ends, air, guess, close)); }
  laws::Flow operator()(const laws::Passage& law) const {
    return remember(laws::passage(law, ends, air, guess, close));
  }
  laws::Flow operator()(const laws::Conductance& law) const { return laws::conductance(law, ends, air); }
  laws::Flow operator()(const laws::Clearance& law) const { return laws::clearance(law, ends, air); }
  laws::Flow operator()(const laws::FaceGap& law) const { return laws::face_gap(law, ends, air); }
  laws::Flow operator()(const laws::Rated& law) const { return laws::rated(law, ends); }
  laws::Flow operator()(const OneWay& law) const {
    if (ends.drop < 0.0) return {};  // at rest itself the slope is that of the open side
    return laws::conductance(law.path, {ends.p1 - law.cracking, ends.p2, ends.drop}, air);
  }

  laws::Flow remember(const laws::Flow& flow) const {
    guess = flow.m;
    return flow;
  }
};

}  // namespace

double cracking_of(const Path& path) {
  const auto* one_way = std::get_if<OneWay>(&path.law);
  return one_way && path.mode != Mode::shorted ? one_way->cracking : 0.0;
}

laws::Ends path_ends(const Path& path, double pa, double pb, double low) {
  return {pa, pb, (pa - pb - cracking_of(path)) + low};
}

laws::Flow path_flow(const Path& path, const laws::Ends& ends, const gas::Air& air, double short_conductance,
                     double& guess, double close) {
  if (path.mode == Mode::closed) return {};
  if (path.mode == Mode::shorted) return {short_conductance * ends.drop, short_conductance, -short_conductance};
  if (path.scale == 0.0) return {};  // a hole that a leak has not torn to
  const laws::Flow flow = std::visit(Call{ends, air, guess, close}, path.law);
  return {path.scale * flow.m, path.scale * flow.dm_dp1, path.scale * flow.dm_dp2};
}

}  // namespace airtally::solve
