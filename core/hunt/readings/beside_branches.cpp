// Where the line forks: readings with one branch off, beside those with none.
#include <algorithm>
#include <cmath>

#include "hunt/readings/beside_branches_private.hpp"
#include "hunt/readings/cut.hpp"

namespace airtally::hunt {

std::optional<BesideBranch> branch_beside(const line::Line& line, const line::Topology& topology,
                                          const study::Strip& strip, const Bench& bench, const Reading& reading) {
  const Setting& setting = reading.setting;
  if (setting.cap || setting.off.size() > 1 || strip.branches.empty()) return std::nullopt;
  if (cut(line, topology, setting).tips != cut(line, topology, {{}, 0.0, strip.tips, setting.off}).tips)
    return std::nullopt;
  BesideBranch one;
  const std::vector<study::StripReading>* predicted = &strip.whole;
  if (!setting.off.empty()) {
    const auto found = std::find_if(strip.branches.begin(), strip.branches.end(),
                                    [&](const study::StripBranch& branch) { return branch.off == setting.off[0]; });
    if (found == strip.branches.end()) return std::nullopt;
    one.branch = static_cast<std::size_t>(found - strip.branches.begin());
    predicted = &found->readings;
  }
  for (const study::StripReading& r : *predicted) {
    if (r.at != reading.at) continue;
    const bool current = reading.instrument == Instrument::current;
    if (!current && reading.instrument != Instrument::vacuum) continue;
    if (current && !r.current) continue;
    one.instrument = reading.instrument;
    one.at = reading.at;
    one.read = reading.value;
    one.predicted = current ? *r.current : r.vacuum;
    one.noise = reading.noise > 0.0 ? reading.noise : meter_at(line, bench, reading.instrument, reading.at).noise();
    return one;
  }
  return std::nullopt;
}

void compare_branches(double beyond, BesideAll& all) {
  std::stable_sort(all.branches.begin(), all.branches.end(),
                   [](const BesideBranch& a, const BesideBranch& b) { return a.branch < b.branch; });
  double most = beyond;
  for (BesideBranch& here : all.branches) {
    const auto whole = std::find_if(all.branches.begin(), all.branches.end(), [&](const BesideBranch& b) {
      return !b.branch && b.instrument == here.instrument && b.at == here.at;
    });
    if (!here.branch || whole == all.branches.end()) continue;
    here.compared = true;
    here.surprise = (whole->read - here.read) - (whole->predicted - here.predicted);
    const double deviations = std::fabs(here.surprise) / std::hypot(whole->noise, here.noise);
    const bool better = is_gauge(here.instrument) && here.surprise > 0.0;  // than the file says
    if (better || deviations <= most) continue;
    most = deviations;
    all.worst_branch = static_cast<std::size_t>(&here - all.branches.data());
  }
}

}  // namespace airtally::hunt
