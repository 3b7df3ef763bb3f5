#include "report/trial.hpp"

#include <algorithm>
#include <vector>

#include "report/rank_words.hpp"
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

namespace {

/// The element whose change that is, an index into the line; none: nothing is to be tried.
std::optional<std::size_t> tried(const line::Line& line, const study::Ranking& ranking, std::string& change) {
  std::vector<study::ElementCost> costs = ranking.elements;
  std::stable_sort(costs.begin(), costs.end(),
                   [](const auto& a, const auto& b) { return a.fair_share > b.fair_share; });
  for (const study::ElementCost& cost : costs) {
    const line::Element& element = line.elements[cost.element];
    // A nozzle's bore also sets how its part seals, so that a wider one may lose more than it wins.
    const bool leak = cost.leak_gain >= cost.restriction_gain;
    if (cost.fair_share <= 0.0 || (!leak && element.kind == line::Kind::nozzle)) continue;
    const std::string what = leak ? smaller_leak(element) : wider(element, cost.restriction_gain);
    if (what.empty() || odd(element.name)) continue;
    change = name(line, cost.element) + '.' + what;
    return cost.element;
  }
  return std::nullopt;
}

/// Of a part that asks for more than any repair brings: less asked for.
Trial easier(const line::Line& line, std::size_t nozzle) {
  const line::Element& element = line.elements[nozzle];
  const auto* bore = std::get_if<line::Bore>(&element.restriction);
  const bool acts_on_bore = !line.move || line.move->seal == line::SealAt::bore;
  constexpr double larger = 1.5;
  if (bore && acts_on_bore && !odd(element.name) && (!element.rim || element.rim->value > larger * bore->bore.value))
    return {name(line, nozzle) + ".bore=" + units::show_fitting(larger * bore->bore.value, Dimension::length, 2),
            "hold", "No repair of the line is enough, so this tries a larger bore of " + the(element)};
  if (line.move && line.move->travel.value > 0.0)
    return {"move.travel=" + units::show_fitting(0.5 * line.move->travel.value, Dimension::acceleration, 2), "hold",
            "No repair of the line is enough, so this tries a gentler move"};
  return {"", "hold", "No repair of the line is enough, so try another part or nozzle"};
}

}  // namespace

std::string trial_change(const line::Line& line, const study::Ranking& ranking) {
  if (const auto valve = valve_to_open(ranking))
    return odd(line.elements[*valve].name) ? "" : name(line, *valve) + ".state=open";
  std::string change;
  tried(line, ranking, change);
  return change;
}

Trial trial(const line::Line& line, const study::Ranking& ranking) {
  if (valve_to_open(ranking)) return {trial_change(line, ranking), "rank", ""};
  if (needs_too_much(ranking)) return easier(line, ranking.tip_element);
  if (ranking.at_parts && !ranking.at_parts->through && line.part && line.part->gap.value > 0.0)
    return {"part.gap=" + units::show_fitting(0.5 * line.part->gap.value, Dimension::length, 2), "rank",
            "Most air comes in under the part, so this tries half its gap"};
  Trial next{"", "rank", ""};
  const auto element = tried(line, ranking, next.change);
  const auto worst = std::max_element(ranking.elements.begin(), ranking.elements.end(),
                                      [](const auto& a, const auto& b) { return a.fair_share < b.fair_share; });
  if (!element || *element == worst->element) return next;
  const line::Element& first = line.elements[worst->element];
  next.why = first.kind == line::Kind::nozzle
                 ? "A wider bore of " + the(first) + " may seal its part worse, so this tries what costs most after it"
                 : The(first) + " has no one number to change, so this tries what costs most after it";
  return next;
}

}  // namespace airtally::report
