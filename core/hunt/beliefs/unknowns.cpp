#include "hunt/beliefs/unknowns.hpp"

#include <algorithm>

#include "hunt/beliefs/plate.hpp"
#include "hunt/beliefs/stated_priors.hpp"
#include "line/topology.hpp"
#include "line/variant.hpp"
#include "solve/evaluation.hpp"

namespace airtally::hunt {
namespace {

/// Each element's leaks when the whole line stands at leak_vacuum().
std::vector<double> reference_leaks(const line::Line& line) {
  const line::Topology topology = line::topology(line);
  const std::vector<solve::TipState> tips(line::all_of(line, line::Kind::nozzle).size(), solve::TipState::blocked);
  const solve::Network network(line, topology, tips);
  const solve::Elimination pattern(static_cast<int>(network.nodes.size()), network.pairs());
  solve::Evaluation evaluation(network, pattern);
  evaluation.at(network, solve::Pressures(network.nodes.size(), network.ambient - leak_vacuum(line.site)));
  std::vector<double> leaks(line.elements.size(), 0.0);
  for (std::size_t k = 0; k < network.paths.size(); ++k)
    if (network.paths[k].role == solve::Role::leak) leaks[network.paths[k].element] += evaluation.flow[k].m;
  return leaks;
}

bool can_be_zero(const line::Line& line, std::size_t i) {
  for (const line::Leak& leak : line.elements[i].leaks) {
    const auto* hole = std::get_if<line::Hole>(&leak);
    const auto* gap = std::get_if<line::Clearance>(&leak);
    if ((hole && hole->diameter.value > 0.0) || (gap && gap->gap.value > 0.0) ||
        std::holds_alternative<line::RatedLeak>(leak))
      return false;
  }
  return true;
}

/// Whether all of its leaks are holes already.
bool all_holes(const std::vector<line::Leak>& leaks) {
  return std::all_of(leaks.begin(), leaks.end(), [](const line::Leak& leak) {
    const auto* rated = std::get_if<line::RatedLeak>(&leak);
    return std::holds_alternative<line::Hole>(leak) || (rated && rated->orifice);
  });
}

}  // namespace

std::vector<std::size_t> gauges(const line::Line& line) {
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].gauge) all.push_back(i);
  if (!all.empty()) return all;
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line::is_source(line.elements[i].kind)) all.push_back(i);
  return all;
}

double Unknown::filed() const {
  const auto [least, most] = prior.ends();
  // How parts sit varies: one standard deviation of that is no fault yet.
  if (what == What::seal && prior.shape != Prior::Shape::range) return prior.at(1.0);
  if (lets_in()) return most;
  return prior.shape == Prior::Shape::range ? std::min(least, 1.0) : 1.0;
}

std::vector<double> Suspects::values(std::span<const double> z) const {
  std::vector<double> all(unknowns.size());
  for (std::size_t k = 0; k < unknowns.size(); ++k) all[k] = unknowns[k].prior.at(z[k]);
  return all;
}

Suspects suspects(const line::Line& line, const Bench& bench, std::span<const double> plates) {
  Suspects result;
  result.line = line;
  const std::size_t n = line.elements.size();
  for (std::size_t i = 0; i < n; ++i) {
    line::Element& e = result.line.elements[i];
    if (can_be_zero(line, i)) {
      e.leaks = {line::RatedLeak{healthy_leak(e.kind).median, leak_vacuum(line.site), false}};
      result.unknowns.push_back({What::leak, i, Instrument::vacuum, healthy_leak_prior(e.kind)});
    } else {
      result.unknowns.push_back({What::leak, i, Instrument::vacuum, leak_prior(e)});
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    const line::Element& e = line.elements[i];
    if (line::restricts(e))
      result.unknowns.push_back(
          {What::blockage, i, Instrument::vacuum, stated_opening(e).value_or(blockage_prior(e.kind))});
  }
  for (std::size_t i = 0; i < n; ++i)
    if (const line::Bore* bore = long_bore(line.elements[i]))
      result.unknowns.push_back({What::bore, i, Instrument::vacuum, bore_prior(*bore)});
  if (line.part)
    for (std::size_t i : line::all_of(line, line::Kind::nozzle))
      result.unknowns.push_back({What::seal, i, Instrument::vacuum, seal_prior(*line.part)});
  result.unknowns.push_back({What::hole_share, 0, Instrument::vacuum, hole_share_prior()});
  for (const double hole : plates)
    result.unknowns.push_back({What::plate, 0, Instrument::vacuum, plate_prior(bench), hole});
  const auto offset = [&](Instrument instrument, std::size_t i) {
    const double sd = 0.5 * meter_at(line, bench, instrument, i).accuracy;
    result.unknowns.push_back({What::offset, i, instrument, {Prior::Shape::normal, 0.0, sd}});
  };
  for (std::size_t i = 0; i < n; ++i) {
    const line::Element& e = line.elements[i];
    if (!line::is_source(e.kind)) continue;
    const Prior flow = stated_pump_flow(*e.pump).value_or(pump_flow_prior(*e.pump));
    const Prior vacuum = stated_pump_vacuum(*e.pump).value_or(pump_vacuum_prior(*e.pump));
    result.unknowns.push_back({What::pump_flow, i, Instrument::vacuum, flow});
    result.unknowns.push_back({What::pump_vacuum, i, Instrument::vacuum, vacuum});
    if (!e.pump->current.empty()) offset(Instrument::current, i);
    offset(Instrument::flow, i);
  }
  for (std::size_t i : gauges(line)) offset(Instrument::vacuum, i);
  if (bench.plug_gauge) offset(Instrument::plugged, 0);
  result.leak_at_one = reference_leaks(result.line);
  for (std::size_t i = 0; i < n; ++i) {
    std::vector<line::Leak>& leaks = result.line.elements[i].leaks;
    result.tears.push_back(!all_holes(leaks));
    if (result.tears.back()) leaks.emplace_back(line::RatedLeak{result.leak_at_one[i], leak_vacuum(line.site), true});
  }
  return result;
}

}  // namespace airtally::hunt
