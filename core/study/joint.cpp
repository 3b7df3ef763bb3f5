#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "errors.hpp"
#include "line/topology.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "study/duty.hpp"
#include "study/hold.hpp"
#include "study/joint_private.hpp"
#include "study/need.hpp"
#include "study/reach.hpp"
#include "study/rise.hpp"

namespace airtally::study {
namespace {

constexpr double same_cost = 0.5e-3;  ///< [s]; placements that differ by less cost the same

/// What the vacuum, the pump and the part say of a line with this way in it.
void ask_line(const line::Line& line, const JointJob& job, JointWay& way) {
  const solve::SteadyAnswer with_part = solve::steady(line, solve::usual_tips(line));
  way.vacuum_part = weakest_vacuum(with_part);
  way.vacuum_open = weakest_vacuum(solve::steady(line, solve::all_tips(line, solve::TipState::open)));
  for (const std::size_t i : job.at) way.leak += with_part.elements[i].leak;
  const Hold held = hold(line);
  way.margin = held.tips.at(held.weakest).margin;
  if (!held.holds()) way.troubles.emplace_back("it does not hold the part");
  const PartTimes times = part_times(line, job.needs, few_pieces);
  way.settle = times.settle;
  way.reach = times.reach;
  if (!way.reach) way.troubles.emplace_back("the tip never gets the vacuum that the machine waits for");
  way.duty = pump_duty(line::at_widest_gap(line), job.needs);
}

/// What the motor has to give, and what turning costs.
void ask_motor(const line::SpindleMotor& motor, const JointJob& job, JointWay& way) {
  if (way.friction && motor.inertia) way.torque = *way.friction + *motor.inertia * motor.acceleration;
  if (way.torque && motor.torque) {
    way.torque_left = *motor.torque - *way.torque;
    if (*way.torque_left < 0.0) way.troubles.emplace_back("the motor is too weak for it");
  }
  way.turns = turns_of(job, way.twists);
  if (way.turns.unreachable > 0)
    way.troubles.emplace_back(fmt::format("{} of {} placements are beyond its limit", way.turns.unreachable,
                                          way.turns.unreachable + way.turns.placements));
  if (!way.reach) return;
  way.late = *way.reach + way.turns.late + way.turns.late_back;
  way.placement = *way.late + job.carry + job.back + job.other;
}

/// The deepest vacuum that the twisted tube itself comes to [Pa] >= 0, at its end towards the pump: blocked it has
/// nearly the pump's, and under a part that seals badly, or open, the tip has far less than it.
double deepest_in_tube(const line::Line& line, const JointJob& job) {
  double deepest = 0.0;
  for (const std::vector<solve::TipState>& tips :
       {solve::all_tips(line, solve::TipState::open), solve::usual_tips(line),
        solve::all_tips(line, solve::TipState::blocked)}) {
    const solve::SteadyAnswer answer = solve::steady(line, tips);
    for (const std::size_t i : job.at)
      deepest = std::max(deepest, answer.elements[i].vacuum + std::max(0.0, answer.elements[i].drop));
  }
  return deepest;
}

TwistedTube twisted_tube(const line::Twist& twist, const JointJob& job, double vacuum) {
  const auto& bore = std::get<line::Bore>(job.tube.restriction);
  TwistedTube twisted;
  twisted.tube = {bore.bore.value, job.tube.wall->value, bore.length.value, job.tube.modulus->value};
  twisted.angle = twist.limit;
  const laws::Torsion torsion = laws::torsion(twisted.tube, twisted.angle);
  twisted.torque = torsion.torque;
  twisted.strain = torsion.strain;
  twisted.allowed = twist.strain;
  twisted.shortest = laws::shortest_twisted(twisted.tube, twisted.angle, twisted.allowed);
  twisted.flattens = laws::flattening_vacuum(twisted.tube);
  const double bend = laws::flattening_bend(twisted.tube, vacuum);
  if (std::isfinite(bend)) twisted.tightest = bend;
  return twisted;
}

void judge_tube(const line::Twist& twist, const TwistedTube& twisted, JointWay& way) {
  if (twisted.strain > twisted.allowed) way.troubles.emplace_back("the tube is too short for its strain");
  if (!twisted.tightest)
    way.troubles.emplace_back("the tube flattens under its vacuum");
  else if (twist.bend && *twist.bend < *twisted.tightest)
    way.troubles.emplace_back("the tube kinks in its tightest bend");
}

JointWay way_of(const line::Line& line, const JointJob& job, const line::Element& seal, bool own) {
  JointWay way;
  way.name = seal.name;
  way.own = own;
  way.twists = seal.kind == line::Kind::tube;
  ask_line(line, job, way);
  return way;
}

std::optional<std::size_t> best_of(const std::vector<JointWay>& ways) {
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < ways.size(); ++i) {
    if (!ways[i].does()) continue;
    if (!best) {
      best = i;
      continue;
    }
    const double less = *ways[*best].late - *ways[i].late;
    if (less > same_cost || (less > -same_cost && ways[i].margin > ways[*best].margin)) best = i;
  }
  return best;
}

}  // namespace

bool Joint::alike(std::size_t a, std::size_t b) const {
  constexpr double same = 0.01;
  const auto &first = ways.at(a).placement, &second = ways.at(b).placement;
  return first && second && std::abs(*first - *second) < same * std::min(*first, *second);
}

bool Joint::tube_wins() const {
  if (!ways.at(tube).does()) return false;
  if (!joint || !ways.at(*joint).does()) return true;
  return *ways.at(tube).late < *ways.at(*joint).late;
}

Joint joint(const line::Line& line, const line::Twist& twist, const JointOptions& options) {
  line::topology(line);  // complains of a line without a nozzle
  const JointJob job = joint_job(line, twist);
  Joint result;
  result.carry = job.carry;
  result.back = job.back;
  result.other = job.other;
  result.needs = job.needs;
  result.waits_stated = twist.wait_for.has_value();
  result.angles = twist.angles.size();
  result.notes = job.notes;

  result.ways.reserve(options.seals.size() + 2);
  result.ways.push_back(way_of(line, job, line.elements[job.at.front()], true));
  result.ways.front().friction = twist.friction;
  if (!job.own_tube) result.joint = 0;
  for (const line::Seal& seal : options.seals) {
    result.ways.push_back(way_of(with_seal(line, job, seal.element), job, seal.element, false));
    result.ways.back().friction = seal.friction;
  }
  if (!job.own_tube) {
    result.tube = result.ways.size();
    result.ways.push_back(way_of(with_seal(line, job, job.tube), job, job.tube, false));
  }
  JointWay& tube = result.ways[result.tube];
  const double deepest = deepest_in_tube(job.own_tube ? line : with_seal(line, job, job.tube), job);
  result.twisted = twisted_tube(twist, job, deepest);
  tube.friction = result.twisted.torque;
  for (JointWay& way : result.ways) ask_motor(twist.motor, job, way);
  judge_tube(twist, result.twisted, tube);
  result.best = best_of(result.ways);

  const auto rival = joint_of(line, job, options.seals);
  if (rival && !result.joint)
    for (std::size_t i = 0; i < result.ways.size(); ++i)
      if (!result.ways[i].own && result.ways[i].name == rival->name) result.joint = i;
  if (!rival || !tube.late) return result;
  if (tube.does()) result.even = break_even(line, job, *rival, *tube.late, 0.0, options.curve);
  if (result.ways[*result.joint].reach)
    result.even_pace = even_pace(job, *result.ways[*result.joint].reach, *tube.reach);
  return result;
}

}  // namespace airtally::study
