#include <algorithm>
#include <cmath>

#include "line/land.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "solve/steady.hpp"
#include "solve/tally.hpp"
#include "study/cycle_player_private.hpp"
#include "study/segments.hpp"

namespace airtally::study {
namespace {

using line::none;
using solve::Mode;
using solve::Network;
using solve::Path;
using solve::Role;
using solve::TipState;

/// Least gap that the law of a nozzle coming down is used at [m]; a perfect seal would end it at zero.
constexpr double sealed_gap = 1e-7;

int path_of(const Network& network, std::size_t element, Role role) {
  for (int k : network.paths_of[element])
    if (network.paths[k].role == role) return k;
  return -1;
}

}  // namespace

Player::Player(const line::Line& line, const line::Topology& topology, const Plan& plan, const CycleOptions& options)
    : line_(line), plan_(plan), options_(options), paths_(plan.heads.size()) {
  Network network(line, topology, solve::all_tips(line, TipState::open), cut(line, options.segments));
  prepare(network);
  solve::Pressures rest(network.nodes.size(), network.ambient);
  if (line.cycle->pump_always_on) {
    solve::Steady steady(network);
    steady.solve(network, rest);
  }
  system_ = solve::line_system(network, options.thermal);
  x_ = system_->state(rest);
}

Player::Still Player::still() const { return {x_, system_->network(), system_->ramps, system_->descents}; }

void Player::back_to(const Still& still, std::vector<double> x) {
  system_->network() = still.network;
  system_->ramps = still.ramps;
  system_->descents = still.descents;
  x_ = std::move(x);
  changed_ = true;
}

CycleRun Player::blank() const {
  const Network& network = system_->network();
  std::vector<std::size_t> watched;
  for (std::size_t nozzle : network.nozzles) watched.push_back(index(network.node_of[nozzle]));
  CycleRun run{solve::Trajectory({}), {}, {}, network.ambient, 0.0, 0, 0};
  for (std::size_t i = 0; i < line_.elements.size(); ++i) {
    if (!line_.elements[i].gauge) continue;
    run.gauges.push_back(i);
    watched.push_back(index(network.gauge_node[i]));
  }
  for (const solve::Source& source : network.sources) {
    run.sources.push_back(source.element);
    watched.push_back(index(source.node));
  }
  run.trajectory = solve::Trajectory(std::move(watched));
  return run;
}

void Player::play(int turn, double to, CycleRun* run, double from) {
  auto next = std::partition_point(plan_.events.begin(), plan_.events.end(),
                                   [turn](const PlannedEvent& e) { return e.turn < turn; });
  const auto waits = [&] { return next != plan_.events.end() && next->turn == turn; };
  double now = 0.0;
  while (now < to) {
    while (waits() && next->at <= now) apply(*next++);
    double until = waits() ? std::min(next->at, to) : to;
    // The end of a ramp is a kink of its own.
    for (const solve::Ramp& ramp : system_->ramps)
      if (ramp.end > 0.0) until = std::min(until, now + ramp.end);
    integrate(run, until - now, from + now, turn * plan_.period + now);
    now = until;
  }
}

/// Closes the valves and gives every nozzle the path that it comes down on.
void Player::prepare(Network& network) {
  for (std::size_t h = 0; h < plan_.heads.size(); ++h) {
    const HeadPlan& head = plan_.heads[h];
    HeadPaths& paths = paths_[h];
    if (head.valve != none) {
      paths.valve = path_of(network, head.valve, Role::restriction);
      paths.vent = path_of(network, head.valve, Role::vent);
      network.paths[paths.valve].mode = Mode::closed;
      if (paths.vent >= 0) network.paths[paths.vent].mode = Mode::closed;
    }
    const line::Element& nozzle = line_.elements[head.nozzle];
    const auto& bore = std::get<line::Bore>(nozzle.restriction);
    const double inner = 0.5 * bore.bore.value;
    const double outer = std::max(line::land_outer(line_, nozzle).value_or(1.5 * inner), 1.01 * inner);
    paths.closing = static_cast<int>(network.paths.size());
    network.paths_of[head.nozzle].push_back(paths.closing);
    network.paths.push_back({solve::outside, network.node_of[head.nozzle], network.ambient,
                             laws::FaceGap{line_.cycle->approach_height.value, inner, outer}, Role::vent, head.nozzle,
                             Mode::closed, Mode::closed});
  }
  if (line_.cycle->pump_always_on) return;
  standstill_.emplace(line_, network);
  standstill_->run(network, false);
}

void Player::open_tip(std::size_t h) {
  Network& network = system_->network();
  const HeadPlan& head = plan_.heads[h];
  network.set_tip(head.nozzle_index, TipState::open);
  network.paths[paths_[h].closing].mode = Mode::closed;
  // The mouth is the outside now; its own node must not keep what the part had made of it.
  std::vector<double> fresh = system_->state(solve::Pressures(network.nodes.size(), network.ambient));
  const std::size_t at = index(network.node_of[head.nozzle]);
  const std::size_t per_node = index(1);
  for (std::size_t u = 0; u < per_node; ++u) x_[at + u] = fresh[at + u];
}

/// Moves a path's factor from where it is to `to`, over the valve's ramp.
void Player::ramp(int path, double to, double duration) {
  if (path < 0) return;
  Network& network = system_->network();
  Path& p = network.paths[path];
  const double from = p.mode == Mode::active ? p.scale : 0.0;
  std::erase_if(system_->ramps, [&](const solve::Ramp& r) { return r.path == path; });
  p.mode = Mode::active;
  p.scale = duration > 0.0 ? from : to;
  if (duration > 0.0) system_->ramps.push_back({path, 0.0, duration, from, to});
  if (duration <= 0.0 && to == 0.0) p.mode = Mode::closed;
}

void Player::apply(const PlannedEvent& event) {
  Network& network = system_->network();
  const HeadPlan& head = plan_.heads[event.head];
  HeadPaths& paths = paths_[event.head];
  const double duration =
      head.valve == none || !line_.elements[head.valve].valve ? 0.0 : line_.elements[head.valve].valve->ramp.value;
  const double gap = std::max(line_.part->gap.value, sealed_gap);
  switch (event.act) {
    case Act::valve_opens:
      ramp(paths.vent, 0.0, duration);
      ramp(paths.valve, 1.0, duration);
      break;
    case Act::valve_closes:
      ramp(paths.valve, 0.0, duration);
      ramp(paths.vent, 1.0, duration);
      break;
    case Act::vent_closes:
      ramp(paths.vent, 0.0, duration);
      break;
    case Act::approach: {
      network.set_tip(head.nozzle_index, TipState::blocked);
      network.paths[paths.closing].mode = Mode::active;
      const line::Cycle& cycle = *line_.cycle;
      const double touch = head.touch - head.approach;
      system_->descents.push_back(
          {paths.closing, touch, cycle.approach_speed.value, gap, std::max(cycle.approach_height.value, gap)});
      break;
    }
    case Act::touch:
      std::erase_if(system_->descents, [&](const solve::Descent& d) { return d.path == paths.closing; });
      network.paths[paths.closing].mode = Mode::closed;
      network.set_tip(head.nozzle_index, TipState::part);
      break;
    case Act::retract:
      open_tip(event.head);
      break;
    case Act::pump_starts:
    case Act::pump_stops:
      standstill_.value().run(network, event.act == Act::pump_starts);
      break;
  }
  changed_ = true;
}

void Player::integrate(CycleRun* run, double length, double from, double clock) {
  if (length <= 0.0) return;
  if (changed_) {
    system_->changed();
    system_->settle_massless(0.0, x_);
    changed_ = false;
  }
  const auto content = system_->content(x_), in = system_->brought_in(x_);
  const solve::IntegrationReport report = solve::integrate(
      *system_, x_, 0.0, length, {options_.absolute, options_.relative},
      [&](const solve::StepView& step) {
        if (run) run->trajectory.add(step, from);
        return true;
      },
      0.0, clock);
  for (solve::Ramp& ramp : system_->ramps) {
    ramp.begin -= length;
    ramp.end -= length;
    if (std::fabs(ramp.end) < 1e-12) ramp.end = 0.0;  // it ended with this stretch, whatever the last digits say
  }
  for (solve::Descent& descent : system_->descents) descent.touch -= length;
  const auto content_after = system_->content(x_), in_after = system_->brought_in(x_);
  const auto gap = [](double held, double change, double brought) { return std::fabs(change - brought) / held; };
  double worst = gap(content.mass, content_after.mass - content.mass, in_after.mass - in.mass);
  if (content.energy > 0.0)
    worst = std::max(worst, gap(content.energy, content_after.energy - content.energy, in_after.energy - in.energy));
  if (solve::Work* work = solve::Work::current()) work->balanced(worst);
  if (!run) return;
  run->worst_balance = std::max(run->worst_balance, worst);
  run->steps += report.steps;
  ++run->pieces;
}

}  // namespace airtally::study
