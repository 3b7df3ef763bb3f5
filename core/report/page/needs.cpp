#include "report/page/needs.hpp"

#include <algorithm>
#include <cmath>

#include "report/words.hpp"

namespace airtally::report::page {
namespace {

/// A vacuum that some heads need for the same.
struct Need {
  double at = 0.0;                 // [Pa]
  std::string to;                  // "to lift"
  std::vector<std::size_t> heads;  // indices into the cycle's
};

/// What every head needs, the most first: heads that need the same for the same together, and what one head needs to
/// lift and to travel together where its two lines would lie on each other.
std::vector<Need> all_needs(const study::CycleAnswer& cycle, double near) {
  std::vector<Need> all;
  const auto add = [&](double at, const std::string& to, std::size_t head) {
    constexpr double same = 1e-3;  // of it
    const auto found = std::find_if(
        all.begin(), all.end(), [&](const Need& need) { return need.to == to && std::abs(need.at - at) <= same * at; });
    if (found != all.end())
      found->heads.push_back(head);
    else
      all.push_back({at, to, {head}});
  };
  for (std::size_t k = 0; k < cycle.heads.size(); ++k) {
    const double lift = cycle.heads[k].needed_to_lift, travel = cycle.heads[k].needed_to_travel;
    if (std::abs(travel - lift) < near) {
      add(std::max(lift, travel), "to lift and travel", k);
    } else {
      add(lift, "to lift", k);
      add(travel, "to travel", k);
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const Need& a, const Need& b) { return a.at > b.at; });
  return all;
}

}  // namespace

std::vector<Level> needs(const line::Line& line, const study::CycleAnswer& cycle, double deepest) {
  double most = deepest;
  for (const study::HeadCycle& head : cycle.heads) most = std::max({most, head.needed_to_lift, head.needed_to_travel});
  const double near = 0.06 * most;
  std::vector<Level> levels;
  std::size_t named = 0;  // the level above which the words stand
  for (const Need& need : all_needs(cycle, near)) {
    constexpr std::size_t most_names = 2;
    std::vector<std::string> names;
    for (const std::size_t head : need.heads) names.push_back(name(line, cycle.heads[head].nozzle));
    const bool all = names.size() == cycle.heads.size();
    const std::string who = names.size() > most_names ? counted(names.size(), "nozzle") : listed(names);
    if (!levels.empty() && levels.back().at - need.at < near) {
      levels[named].text += ", by " + (all ? "all" : who) + ' ' + need.to;
      levels.push_back({need.at, ""});
    } else {
      named = levels.size();
      levels.push_back({need.at, "needed " + (all ? "" : "by " + who + ' ') + need.to});
    }
  }
  return levels;
}

}  // namespace airtally::report::page
