#include "solve/network.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "errors.hpp"
#include "line/curves.hpp"
#include "line/land.hpp"
#include "line/variant.hpp"
#include "solve/losses.hpp"

namespace airtally::solve {
namespace {

using line::none;

laws::PumpCurve pump_curve(const line::Pump& pump, const gas::Site& site) {
  return {line::law_points(pump.flow), site, pump.speed.value};
}

laws::Conductance iso(const line::Iso& path) { return {path.conductance.value, path.critical_ratio.value}; }

/// Of a restriction: one that is said to be clear takes nothing.
Mode unless_clear(const line::Element& e, Mode mode) { return e.clear ? Mode::shorted : mode; }

struct LeakLaw {
  double site;
  Law operator()(const line::Hole& leak) const { return laws::hole(leak.diameter.value, leak.discharge.value); }
  Law operator()(const line::Clearance& leak) const {
    return laws::Clearance{leak.gap.value, leak.diameter.value, leak.length.value, leak.eccentricity.value};
  }
  Law operator()(const line::RatedLeak& leak) const {
    const double ambient = leak.ambient.value_or(site), inside = ambient - leak.at.value;
    if (leak.orifice) return laws::conductance_from(leak.flow.value, ambient, inside);
    return laws::rated_from(leak.flow.value, ambient, inside);
  }
};

}  // namespace

laws::PumpFlow Source::at(double p, double low) const {
  // Counted from the ultimate pressure, where the flow is small and its digits count.
  const laws::PumpFlow fresh =
      vacuum_factor == 1.0 ? curve.at(p, low) : curve.at(curve.ultimate(), ((p - ultimate()) + low) / vacuum_factor);
  return {flow_factor * fresh.m, flow_factor / vacuum_factor * fresh.dm_dp};
}

Network::Network(const line::Line& line, const line::Topology& topology, std::span<const TipState> states,
                 std::span<const int> segments)
    : nodes(topology.places), ambient(line.site.pressure), air(gas::air_at(line.site.temperature)) {
  const std::size_t n = line.elements.size();
  paths_of.resize(n);
  paths.reserve(3 * n);
  gauge_node.reserve(n);
  node_of.resize(n);
  auto element_names = std::make_shared<std::vector<std::string>>();
  for (const line::Element& e : line.elements) element_names->push_back(e.name);
  names = std::move(element_names);
  for (std::size_t i = n; i-- > 0;) {
    node_of[i] = static_cast<int>(topology.place[i]);
    nodes[topology.place[i]].element = i;  // the first element of a shared place gives it its name
  }
  for (std::size_t i = 0; i < n; ++i) {
    const line::Element& e = line.elements[i];
    add_restriction(line, topology, i, segments.empty() ? 1 : segments[i]);
    add_leaks(line, i);
    add_volume(node_of[i], e.volume.value);
    if (line::is_source(e.kind)) sources.push_back({node_of[i], pump_curve(e.pump.value(), line.site), i, ambient});
    if (e.kind == line::Kind::nozzle) add_nozzle(line, i);
    add_gauge(line, i);
  }
  for (std::size_t k = 0; k < nozzles.size(); ++k) {
    const TipState state = k < states.size() ? states[k] : TipState::open;
    if (state == TipState::part && !line.part)
      throw BadInput({line.file, 0, 0},
                     "the tip is to carry a part, but the file has no [part]; add one with mass and gap.");
    set_tip(k, state);
  }
}

void Network::add_volume(int node, double volume) {
  if (volume <= 0.0) return;
  // A stated volume has the wall of a cylinder as long as it is wide.
  const double width = std::cbrt(4.0 * volume / std::numbers::pi);
  nodes[node].volume += volume;
  add_wall(node, 1.5 * std::numbers::pi * width * width, width);
}

void Network::add_wall(int node, double area, double width) { nodes[node].exchange += 3.66 * area / width; }

void Network::add_path(std::size_t element, int a, int b, const Law& law, Mode mode, Role role) {
  paths_of[element].push_back(static_cast<int>(paths.size()));
  paths.push_back({a, b, ambient, law, role, element, mode, mode});
}

void Network::add_restriction(const line::Line& line, const line::Topology& topology, std::size_t i, int segments) {
  const line::Element& e = line.elements[i];
  if (!line::restricts(e) || topology.before[i] == none) return;
  const int tip = node_of[i], pump = node_of[topology.before[i]];
  if (const auto* bore = std::get_if<line::Bore>(&e.restriction)) {
    add_bore(line, topology, i, *bore, e.kind == line::Kind::nozzle ? 1 : segments);
  } else if (const auto* path = std::get_if<line::Iso>(&e.restriction)) {
    add_iso(e, i, *path, tip, pump);
  } else {
    const auto& rated = std::get<line::RatedDrop>(e.restriction);
    add_path(i, tip, pump,
             laws::rated_from(rated.flow.value, gas::standard_pressure, gas::standard_pressure - rated.drop.value),
             unless_clear(e, Mode::active));
  }
}

void Network::add_bore(const line::Line& line, const line::Topology& topology, std::size_t i, const line::Bore& bore,
                       int segments) {
  const line::Element& e = line.elements[i];
  const int tip = node_of[i], pump = node_of[topology.before[i]];
  const Mode mode = unless_clear(e, Mode::active);
  const double d = bore.bore.value, length = bore.length.value;
  // A bore in one piece gives half of its volume and wall to each of its ends. One that is cut keeps them, in nodes
  // in the middle of its pieces: walls of a tube must not warm the air of a volume that it leads to. Between ten and
  // twenty widths, where the one becomes the other, it keeps a share: else a settle time jumped there by percents.
  std::vector<int> chain{tip};
  for (int s = 0; s < segments && segments > 1; ++s) {
    chain.push_back(static_cast<int>(nodes.size()));
    nodes.push_back({0.0, 0.0, i});
  }
  chain.push_back(pump);
  const double inside = segments > 1 ? std::clamp(0.1 * length / d - 1.0, 0.0, 1.0) : 0.0;
  const auto hold = [&](int node, double share) {
    nodes[node].volume += share * line::bore_volume(e);
    add_wall(node, share * std::numbers::pi * d * length, d);
  };
  for (const int end : {tip, pump}) hold(end, 0.5 * (1.0 - inside));
  for (std::size_t s = 1; s + 1 < chain.size(); ++s) hold(chain[s], inside / segments);
  if (e.kind == line::Kind::nozzle) {
    add_path(i, tip, pump, laws::Passage{d, length, bore.roughness.value, 0.5 + bore.loss.value}, mode);
    return;
  }
  const EndLosses losses = end_losses(line, topology, i);
  const std::size_t last = chain.size() - 2;
  for (std::size_t s = 0; s <= last; ++s) {
    const double share = last == 0 ? 1.0 : (s == 0 || s == last ? 0.5 : 1.0) / segments;
    const double loss = share * bore.loss.value;
    laws::Duct duct{d, share * length, bore.roughness.value, loss, loss};
    if (s == 0) {
      duct.loss_forward += losses.tip.entering;
      duct.loss_back += losses.tip.leaving;
    }
    if (s == last) {
      duct.loss_forward += losses.pump.leaving;
      duct.loss_back += losses.pump.entering;
    }
    add_path(i, chain[s], chain[s + 1], duct, mode);
  }
}

void Network::add_iso(const line::Element& e, std::size_t i, const line::Iso& path, int tip, int pump) {
  if (e.kind == line::Kind::check_valve) {
    add_path(i, tip, pump, OneWay{iso(path), e.cracking ? e.cracking->value : 0.0}, unless_clear(e, Mode::active));
    return;
  }
  const line::ValveState state = e.valve ? e.valve->state : line::ValveState::open;
  add_path(i, tip, pump, iso(path), unless_clear(e, state == line::ValveState::open ? Mode::active : Mode::closed));
  if (!e.valve || !e.valve->vent) return;
  const line::Vent& vent = *e.valve->vent;
  add_path(i, outside, tip, iso(vent.path), state == line::ValveState::vent ? Mode::active : Mode::closed, Role::vent);
  if (vent.blow_off) paths.back().outside_pressure += vent.blow_off->value;
}

void Network::add_leaks(const line::Line& line, std::size_t i) {
  for (const line::Leak& leak : line.elements[i].leaks)
    add_path(i, outside, node_of[i], std::visit(LeakLaw{ambient}, leak), Mode::active, Role::leak);
}

void Network::add_nozzle(const line::Line& line, std::size_t i) {
  nozzles.push_back(i);
  tips.push_back(TipState::open);
  if (!line.part) return;
  const line::Element& e = line.elements[i];
  const auto add = [&](const Law& law) { add_path(i, outside, node_of[i], law, Mode::closed, Role::seal); };
  const auto* bore = std::get_if<line::Bore>(&e.restriction);
  if (const auto outer = line::land_outer(line, e); line.part->gap.value > 0.0 && bore && outer)
    add(laws::FaceGap{line.part->gap.value, 0.5 * bore->bore.value, *outer});
  if (line.part->porosity) add(LeakLaw{ambient}(*line.part->porosity));
}

void Network::add_gauge(const line::Line& line, std::size_t i) {
  const auto& gauge = line.elements[i].gauge;
  gauge_node.push_back(node_of[i]);
  if (!gauge || !gauge->tube) return;
  const line::Bore& tube = *gauge->tube;
  const double d = tube.bore.value, length = tube.length.value;
  const double half = 0.5 * std::numbers::pi / 4 * d * d * length;
  gauge_node[i] = static_cast<int>(nodes.size());
  nodes.push_back({half, 0.0, i});
  add_volume(gauge_node[i], gauge->volume.value);
  nodes[node_of[i]].volume += half;
  for (int end : {gauge_node[i], node_of[i]}) add_wall(end, 0.5 * std::numbers::pi * d * length, d);
  add_path(i, gauge_node[i], node_of[i], laws::Duct{d, length, tube.roughness.value, 0.5, 1.0}, Mode::active,
           Role::sensor);
}

void Network::set_tip(std::size_t nozzle, TipState state) {
  tips[nozzle] = state;
  const std::size_t i = nozzles[nozzle];
  const bool open = state == TipState::open;
  for (int k : paths_of[i]) {
    Path& path = paths[k];
    // With nothing on it the mouth is the outside: its node drops out, and so do leaks at the mouth.
    if (path.role == Role::restriction) path.a = open ? outside : node_of[i];
    if (path.role == Role::leak) path.mode = path.at_rest = open ? Mode::closed : Mode::active;
    if (path.role == Role::seal) path.mode = path.at_rest = state == TipState::part ? Mode::active : Mode::closed;
  }
}

void Network::set_leak(std::size_t element, bool present) {
  for (int k : paths_of[element])
    if (paths[k].role == Role::leak) paths[k].mode = present ? paths[k].at_rest : Mode::closed;
}

void Network::set_restriction(std::size_t element, bool present) {
  for (int k : paths_of[element])
    if (paths[k].role == Role::restriction) paths[k].mode = present ? paths[k].at_rest : Mode::shorted;
}

std::vector<std::pair<int, int>> Network::pairs() const {
  std::vector<std::pair<int, int>> all;
  for (const Path& path : paths) {
    // An open nozzle's passage runs to the outside now, and to its mouth once a part is on.
    const int a = path.role == Role::restriction && path.a == outside ? node_of[path.element] : path.a;
    // A tube whose ends are merged is a path from a place to itself: no flow, and nothing to couple.
    if (a != outside && path.b != outside && a != path.b) all.emplace_back(a, path.b);
  }
  return all;
}

std::vector<bool> Network::fed() const {
  std::vector<std::vector<int>> near(nodes.size());
  for (const Path& path : paths) {
    if (path.mode == Mode::closed || path.a == outside || path.b == outside) continue;
    near[path.a].push_back(path.b);
    near[path.b].push_back(path.a);
  }
  std::vector<bool> reached(nodes.size(), false);
  std::vector<int> stack;
  const auto visit = [&](int node) {
    if (reached[node]) return;
    reached[node] = true;
    stack.push_back(node);
  };
  for (const Source& source : sources) visit(source.node);
  while (!stack.empty()) {
    const int node = stack.back();
    stack.pop_back();
    for (int other : near[node]) visit(other);
  }
  return reached;
}

std::pair<double, double> Network::bounds() const {
  double low = ambient, high = ambient;
  for (const Source& source : sources) low = std::min(low, source.ultimate());
  for (const Path& path : paths)
    if (path.mode != Mode::closed && (path.a == outside || path.b == outside))
      high = std::max(high, path.outside_pressure);
  return {low, high};
}

double Network::free_flow() const {
  double sum = 0.0;
  // What stands still counts as if it ran: this is a scale for flows.
  for (const Source& source : sources) sum += source.flow_factor > 0.0 ? source.free_flow() : source.curve.free_flow();
  return sum;
}

}  // namespace airtally::solve
