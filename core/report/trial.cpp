#include "report/trial.hpp"

#include <algorithm>
#include <vector>

#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using units::Dimension;

std::string smaller_leak(const line::Element& element) {
  if (element.leaks.size() != 1) return "";
  const auto half = [](double si, Dimension dimension) { return units::show_fitting(0.5 * si, dimension, 2); };
  const line::Leak& leak = element.leaks.front();
  if (const auto* hole = std::get_if<line::Hole>(&leak))
    return "leak.hole=" + half(hole->diameter.value, Dimension::length);
  if (const auto* ring = std::get_if<line::Clearance>(&leak))
    return "leak.clearance=" + half(ring->gap.value, Dimension::length);
  return "leak.rated=" + half(std::get<line::RatedLeak>(leak).flow.value, Dimension::flow);
}

/// What would let more through. `won`: the vacuum that the element without its restriction would win [Pa].
std::string wider(const line::Element& element, double won) {
  // The more of it is cracking pressure, the less a wider way gains: that much is lost however little flows.
  if (element.cracking && element.cracking->value > 0.5 * won)
    return "cracking=" + units::show_fitting(0.5 * element.cracking->value, Dimension::pressure, 2);
  const auto more = [](double si, Dimension dimension) { return units::show_fitting(1.5 * si, dimension, 2); };
  if (const auto* bore = std::get_if<line::Bore>(&element.restriction))
    return "bore=" + more(bore->bore.value, Dimension::length);
  if (const auto* iso = std::get_if<line::Iso>(&element.restriction))
    return "conductance=" + more(iso->conductance.value, Dimension::conductance);
  if (const auto* rated = std::get_if<line::RatedDrop>(&element.restriction))
    return "rated.flow=" + more(rated->flow.value, Dimension::flow);
  return "";
}

/// Whether a shell or the path of a change would read the name otherwise; then it is left to the reader to write.
bool odd(const std::string& name) { return name.find_first_of("\"\\$`!.=[]") != std::string::npos; }

}  // namespace

std::optional<std::size_t> valve_to_open(const study::Ranking& ranking) {
  const double none = 0.01 * ranking.source_vacuum;  // whatever is mended
  return ranking.ideal_vacuum > none ? std::nullopt : ranking.shut;
}

bool shows_in_flow_alone(const study::Ranking& ranking) {
  const auto worst = std::max_element(ranking.elements.begin(), ranking.elements.end(),
                                      [](const auto& a, const auto& b) { return a.fair_share < b.fair_share; });
  return worst != ranking.elements.end() && worst->fair_share > 0.0 && worst->restriction_gain > worst->leak_gain &&
         !valve_to_open(ranking);
}

std::string trial_change(const line::Line& line, const study::Ranking& ranking) {
  if (const auto valve = valve_to_open(ranking))
    return odd(line.elements[*valve].name) ? "" : name(line, *valve) + ".state=open";
  std::vector<study::ElementCost> costs = ranking.elements;
  std::stable_sort(costs.begin(), costs.end(),
                   [](const auto& a, const auto& b) { return a.fair_share > b.fair_share; });
  for (const study::ElementCost& cost : costs) {
    const line::Element& element = line.elements[cost.element];
    // A nozzle's bore also sets how its part seals, so that a wider one may lose more than it wins.
    const bool leak = cost.leak_gain >= cost.restriction_gain;
    if (cost.fair_share <= 0.0 || (!leak && element.kind == line::Kind::nozzle)) continue;
    const std::string change = leak ? smaller_leak(element) : wider(element, cost.restriction_gain);
    if (change.empty() || odd(element.name)) continue;
    return name(line, cost.element) + '.' + change;
  }
  return "";
}

}  // namespace airtally::report
