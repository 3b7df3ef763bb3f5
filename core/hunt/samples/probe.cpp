#include <algorithm>
#include <cmath>

#include "hunt/samples/probe_private.hpp"

namespace airtally::hunt {
namespace {

constexpr std::size_t most_anchors = 160;
constexpr std::size_t anchors_a_round = 24;
constexpr double off = 0.3;              ///< of log posterior: a stand-in that is off by less needs no anchor there
constexpr double of_no_interest = 20.0;  ///< less than the best log posterior by that

std::span<const double> span_of(const Eigen::VectorXd& v) { return {v.data(), static_cast<std::size_t>(v.size())}; }

}  // namespace

void solve(Probe& probe, Evidence& evidence, bool with_slopes) {
  const auto m = static_cast<Eigen::Index>(evidence.size());
  probe.residuals.resize(m);
  if (with_slopes) probe.slopes.resize(m, probe.z.size());
  const std::span<double> slopes =
      with_slopes ? std::span<double>(probe.slopes.data(), static_cast<std::size_t>(probe.slopes.size()))
                  : std::span<double>();
  const bool good = evidence.evaluate(span_of(probe.z), {probe.residuals.data(), evidence.size()}, slopes) &&
                    probe.residuals.allFinite() && (!with_slopes || probe.slopes.allFinite());
  probe.exact = good ? -0.5 * (probe.residuals.squaredNorm() + probe.z.squaredNorm()) : -1e300;
}

double effective_share(const std::vector<Probe>& probes) {
  double top = -1e300, sum = 0.0, squares = 0.0;
  for (const Probe& p : probes) top = std::max(top, p.exact - p.guess);
  if (probes.empty() || top <= -1e299) return 0.0;
  for (const Probe& p : probes) {
    const double w = std::exp(p.exact - p.guess - top);
    sum += w;
    squares += w * w;
  }
  return sum * sum / squares / static_cast<double>(probes.size());
}

void anchor(StandIn& stand_in, const Probe& probe) {
  stand_in.add(span_of(probe.z), span_of(probe.residuals),
               {probe.slopes.data(), static_cast<std::size_t>(probe.slopes.size())});
}

bool mend(StandIn& stand_in, std::vector<Probe>& probes, Evidence& evidence) {
  double best = -1e300;
  for (const Probe& p : probes) best = std::max(best, p.exact);
  bool any = false;
  Stand stand;
  for (std::size_t k = 0; k < anchors_a_round && stand_in.anchors().size() < most_anchors; ++k) {
    Probe* outermost = nullptr;
    double distance = 0.0;
    for (Probe& p : probes) {
      const double error = std::fabs(p.exact - p.guess);
      if (!p.solved() || error <= off || std::max(p.exact, p.guess) < best - of_no_interest) continue;
      // What the stand-in thinks too little of comes first: the samples may miss it.
      const double here = std::min(error, of_no_interest) + (p.exact > p.guess ? 5.0 : 0.0);
      if (here <= distance) continue;
      distance = here;
      outermost = &p;
    }
    if (!outermost) break;
    if (outermost->slopes.size() == 0) solve(*outermost, evidence, true);
    if (!outermost->solved()) continue;
    anchor(stand_in, *outermost);
    any = true;
    for (Probe& p : probes)
      if (put(stand_in, p.z, stand)) p.guess = stand.log_posterior();
  }
  return any;
}

}  // namespace airtally::hunt
