#include "study/outage.hpp"

#include <algorithm>

#include "solve/integrate.hpp"
#include "solve/steady.hpp"
#include "solve/trajectory.hpp"
#include "study/rise.hpp"
#include "study/segments.hpp"

namespace airtally::study {
namespace {

/// Nozzles that hold their part, indices into Hold::tips, which has one for each nozzle of the line.
std::vector<std::size_t> holding(const Hold& held) {
  std::vector<std::size_t> all;
  for (std::size_t k = 0; k < held.tips.size(); ++k)
    if (held.tips[k].judged && held.tips[k].holds()) all.push_back(k);
  return all;
}

std::optional<double> crossed(const solve::Trajectory& course, std::size_t w, double level) {
  const double time = course.first_crossing(w, level);
  return time >= 0.0 ? std::optional(time) : std::nullopt;
}

Outage outage(const line::Line& line, const Hold& held, std::span<const std::size_t> tips, solve::Thermal thermal,
              WayBack way) {
  std::vector<solve::TipState> states;
  for (const TipHold& tip : held.tips) states.push_back(tip.state);
  solve::Network network(line, line::topology(line, false), states, cut(line, few_pieces));
  const Standstill standstill(line, network, way);
  solve::Pressures rest;
  solve::Steady(network).solve(network, rest);

  const std::unique_ptr<solve::LineSystem> system = solve::line_system(network, thermal);
  std::vector<double> x = system->state(rest);
  standstill.run(system->network(), false);
  system->changed();
  system->settle_massless(0.0, x);

  std::vector<std::size_t> mouths;
  std::vector<double> drop;  // pressure at which each part drops
  for (const std::size_t k : tips) {
    const std::size_t nozzle = held.tips[k].element;
    mouths.push_back(system->pressure_index(network.node_of[nozzle]));
    drop.push_back(network.ambient - needed_vacuum(line, nozzle).to_rest);
  }
  solve::Trajectory course(mouths);
  solve::integrate(*system, x, 0.0, longest_outage, {}, [&](const solve::StepView& step) {
    course.add(step);
    for (std::size_t w = 0; w < mouths.size(); ++w)
      if (step.last[mouths[w]] < drop[w]) return true;
    return false;
  });

  Outage result{way, {}};
  for (std::size_t w = 0; w < tips.size(); ++w) {
    const TipHold& tip = held.tips[tips[w]];
    result.tips.push_back(
        {tip.element, crossed(course, w, network.ambient - tip.needed_vacuum), crossed(course, w, drop[w])});
  }
  return result;
}

}  // namespace

std::vector<Outage> outages(const line::Line& as_filed, const Hold& held, solve::Thermal thermal) {
  const std::vector<std::size_t> tips = holding(held);
  if (tips.empty()) return {};
  line::Line line = as_filed;
  line.part->gap = std::max(line.part->gap.high, 0.0);
  std::vector<Outage> all{outage(line, held, tips, thermal, WayBack::shut)};
  const bool stated = std::all_of(line.elements.begin(), line.elements.end(),
                                  [](const line::Element& e) { return !e.pump || e.pump->back_leak; });
  if (!stated) all.push_back(outage(line, held, tips, thermal, WayBack::open));
  return all;
}

}  // namespace airtally::study
