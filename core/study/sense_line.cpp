#include "study/sense_line.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "line/seat.hpp"
#include "solve/answer.hpp"
#include "solve/line_system.hpp"
#include "solve/ripple.hpp"
#include "solve/trajectory.hpp"
#include "study/segments.hpp"

namespace airtally::study {
namespace {

using solve::Network;
using solve::TipState;

constexpr int segments_in_motion = 4;  // of long tubes: the ripple and the rise are then within a few per cent
constexpr double longest_look = 1e4;   // [s]
constexpr double nearly_still = 1e-3;  // of the vacuum at rest

std::vector<TipState> tips_for(const line::Line& line, std::size_t nozzle, TipLook look) {
  std::vector<TipState> tips = solve::usual_tips(line);
  if (look == TipLook::open || look == TipLook::half) tips.at(nozzle) = TipState::open;
  if (look == TipLook::blocked) tips.at(nozzle) = TipState::blocked;
  return tips;
}

/// Lets the empty nozzle pass only a share of its flow.
void narrow(Network& network, std::size_t nozzle, double share) {
  for (int k : network.paths_of[network.nozzles[nozzle]])
    if (network.paths[k].role == solve::Role::restriction) network.paths[k].scale = share;
}

}  // namespace

line::Line with_gauge(line::Line line, std::size_t at) {
  const line::Sensor& sensor = *line.sensor;
  line::Gauge gauge;
  gauge.tube = sensor.tube;
  gauge.volume = sensor.volume;
  line.elements[at].gauge = gauge;
  if (!sensor.tube) line.elements[at].volume = line.elements[at].volume.value + sensor.volume.value;
  return line;
}

Network SensedLine::network_in(const line::Line& line, TipLook look, int segments) const {
  Network network(line, topology_, tips_for(line, nozzle_, look), cut(line, segments));
  if (look == TipLook::half) narrow(network, nozzle_, 0.5);
  if (look == TipLook::leaking) set_gap(network, nozzle_, line.part->gap.high);
  if (look == TipLook::tight) set_gap(network, nozzle_, line.part->gap.low);
  return network;
}

SensedLine::State SensedLine::solved(TipLook look) const {
  const line::Line& line = line_;
  const Network network = network_in(line, look, segments_in_motion);
  solve::Steady steady(network);
  solve::Pressures x;
  steady.solve(network, x);
  State state;
  const auto vacuum = [&](int node) { return (network.ambient - x.p[node]) - x.low[node]; };
  for (std::size_t i = 0; i < line.elements.size(); ++i) state.vacuum.push_back(vacuum(network.node_of[i]));
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    const auto& pump = line.elements[network.sources[s].element].pump;
    if (!pump || !pump->ripple_peak_to_peak || !pump->ripple_frequency) continue;
    const double rms = pump->ripple_peak_to_peak->value / (2.0 * std::sqrt(2.0));
    State::Pump& own = state.ripples.emplace_back();
    own.frequency = pump->ripple_frequency->value;
    const std::vector<double> shares = solve::ripple_shares(network, steady.evaluation(), s, own.frequency);
    for (std::size_t i = 0; i < line.elements.size(); ++i) own.per_element.push_back(rms * shares[network.node_of[i]]);
    own.in_tube = rms * shares[network.gauge_node[at_]];
  }
  return state;
}

SensedLine::SensedLine(const line::Line& line, std::size_t at, std::optional<std::size_t> nozzle)
    : line_(with_gauge(line, at)),
      topology_(line::topology(line_)),
      at_(at),
      network_(line_, topology_, solve::all_tips(line_, TipState::part)) {
  if (nozzle) {
    nozzle_ = *nozzle;
  } else {
    double least = std::numeric_limits<double>::infinity();
    std::size_t hardest = 0;
    for (std::size_t k = 0; k < network_.nozzles.size(); ++k) {
      nozzle_ = k;
      const double signal = solved(TipLook::part).vacuum[at] - solved(TipLook::open).vacuum[at];
      if (signal < least) {
        least = signal;
        hardest = k;
      }
    }
    nozzle_ = hardest;
  }
  for (std::size_t look = 0; look < states_.size(); ++look) states_[look] = solved(static_cast<TipLook>(look));
  for (const TipLook look : {TipLook::open, TipLook::part}) {
    const Network network = network_in(line_, look, segments_in_motion);
    solve::Steady steady(network);
    solve::Pressures x;
    steady.solve(network, x);
    (look == TipLook::open ? beside_open_ : beside_part_) = neighbours_of(line_, network, nozzle_, x);
    if (look == TipLook::part) own_gap_ = OwnGap(line_, network, nozzle_, x);
  }
}

const Neighbours& SensedLine::neighbours(TipLook look) const {
  return look == TipLook::open || look == TipLook::half ? beside_open_ : beside_part_;
}

std::vector<SensedLine::Ripple> SensedLine::ripples(TipLook look, std::size_t element, bool in_tube) const {
  std::vector<Ripple> all;
  for (const State::Pump& pump : states_.at(index(look)).ripples)
    all.push_back({pump.frequency, in_tube && element == at_ ? pump.in_tube : pump.per_element.at(element)});
  return all;
}

double SensedLine::ripple(TipLook look, std::size_t element, bool in_tube) const {
  double all = 0.0;
  for (const Ripple& one : ripples(look, element, in_tube)) all = std::hypot(all, one.rms);
  return all;
}

bool SensedLine::any_ripple() const { return !states_.front().ripples.empty(); }

double SensedLine::gap_spread(std::size_t element) const {
  const units::Quantity& gap = line_.part->gap;
  const double between = std::abs(vacuum(TipLook::tight, element) - vacuum(TipLook::leaking, element));
  if (gap.is_exact()) return 0.0;
  return gap.spread == units::Spread::normal ? 0.25 * between : between / std::sqrt(12.0);
}

double SensedLine::scatter(TipLook look, std::size_t element) const {
  const double own = look == TipLook::part ? gap_spread(element) : 0.0;
  return std::hypot(own, neighbours(look).spread.at(element));
}

double SensedLine::normal_scatter(TipLook look, std::size_t element) const {
  return gap_has_ends() ? 0.0 : neighbours(look).spread.at(element);
}

Stretches SensedLine::bounded_scatter(TipLook look, std::size_t element) const {
  const Stretches own = look == TipLook::part ? own_gap_.at(element) : Stretches{};
  if (!gap_has_ends()) return own;
  const Neighbours& beside = neighbours(look);
  return added(own, sum_of_ranges(beside.spread[element], beside.reach[element], beside.count[element]));
}

double SensedLine::bounded_deviation(TipLook look, std::size_t element) const {
  if (gap_has_ends()) return scatter(look, element);
  return look == TipLook::part ? gap_spread(element) : 0.0;
}

std::optional<double> SensedLine::clogged_at(double vacuum) const {
  const double wanted = vacuum - beside_open_.shift[at_];  // all others stand at the middle of their gaps
  Network network = network_in(line_, TipLook::open);
  solve::Steady steady(network);
  solve::Pressures x;
  const auto vacuum_at = [&](double share) {
    narrow(network, nozzle_, share);
    steady.solve(network, x);
    return network.ambient - x.p[network.node_of[at_]];
  };
  double open = 1.0, closed = 1e-6;
  if (vacuum_at(closed) < wanted) return std::nullopt;
  if (vacuum_at(open) >= wanted) return 0.0;
  while (open - closed > 1e-5) {
    const double middle = 0.5 * (open + closed);
    (vacuum_at(middle) >= wanted ? closed : open) = middle;
  }
  return 1.0 - closed;
}

std::optional<double> SensedLine::rises_to(double felt) const {
  const double wanted = felt - beside_part_.shift[at_];
  const Network open = network_in(line_, TipLook::open, segments_in_motion);
  const Network held = network_in(line_, TipLook::part, segments_in_motion);
  solve::Steady steady_open(open), steady_held(held);
  solve::Pressures start, end;
  steady_open.solve(open, start);
  steady_held.solve(held, end);
  const int node = held.gauge_node[at_];
  const double final_vacuum = held.ambient - end.p[node];
  if (final_vacuum < wanted) return std::nullopt;
  // The mouth was the outside until the part came.
  const int mouth = held.node_of[held.nozzles[nozzle_]];
  start.p[mouth] = held.ambient;
  start.low[mouth] = 0.0;
  const auto system = solve::line_system(held, solve::Thermal::wall);
  std::vector<double> x = system->state(start);
  system->settle_massless(0.0, x);
  const std::size_t watched = system->pressure_index(node);
  solve::Trajectory trajectory({watched});
  const double level = held.ambient - wanted;
  solve::integrate(*system, x, 0.0, longest_look, {}, [&](const solve::StepView& step) {
    trajectory.add(step);
    const double vacuum = held.ambient - step.last[watched];
    return std::abs(vacuum - final_vacuum) > nearly_still * final_vacuum + 0.5 || vacuum < wanted;
  });
  return std::max(0.0, trajectory.last_crossing(0, level));
}

}  // namespace airtally::study
