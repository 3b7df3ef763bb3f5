// What [twist] says, looked up in the line.
#include <fmt/format.h>

#include <algorithm>

#include "errors.hpp"
#include "study/joint_private.hpp"
#include "study/need.hpp"

namespace airtally::study {
namespace {

constexpr std::size_t uniform_count = 2000;  ///< draws that stand for a job without a list of its own

std::vector<std::size_t> places(const line::Line& line, const line::Twist& twist) {
  if (twist.at.empty()) {
    std::vector<std::size_t> all = line::all_of(line, line::Kind::rotary);
    if (all.empty())
      throw BadInput(twist.where, "[twist]: the line has no rotary joint; say with at = \"...\" which tube twists.");
    return all;
  }
  std::vector<std::size_t> all;
  for (const std::string& name : twist.at) {
    const auto found = line::find(line, name);
    if (!found) throw BadInput(twist.at_where, fmt::format("[twist]: at names '{}', which is no element.", name));
    const line::Kind kind = line.elements[*found].kind;
    if (kind != line::Kind::rotary && kind != line::Kind::tube)
      throw BadInput(twist.at_where,
                     fmt::format("[twist]: at names '{}', a {}; it must be a rotary joint or the tube that twists.",
                                 name, line::word(kind)));
    if (!all.empty() && line.elements[all.front()].kind != kind)
      throw BadInput(twist.at_where, "[twist]: at names both joints and tubes; it must be all of one kind.");
    all.push_back(*found);
  }
  return all;
}

line::Element tube_element(const line::Line& line, const line::Twist& twist, std::size_t at, bool own) {
  if (own) {
    const line::Element& tube = line.elements[at];
    if (twist.tube)
      throw BadInput(twist.where,
                     fmt::format("[twist]: '{}' is the tube that twists itself; leave 'tube' out.", tube.name));
    if (!tube.wall || !tube.modulus || !std::holds_alternative<line::Bore>(tube.restriction))
      throw BadInput(tube.where, fmt::format("'{}' twists, so it needs its 'wall' and 'modulus'.", tube.name));
    return tube;
  }
  if (!twist.tube)
    throw BadInput(twist.where,
                   "[twist]: needs 'tube', the plain tube that would twist in the joint's place, such as tube = { "
                   "bore = \"2 mm\", length = \"150 mm\", wall = \"1 mm\", modulus = \"2 MPa\" }.");
  line::Element tube;
  tube.name = "twisted tube";
  tube.kind = line::Kind::tube;
  tube.restriction = line::Bore{twist.tube->bore, twist.tube->length, 0.0, 0.0};
  tube.wall = twist.tube->wall;
  tube.modulus = twist.tube->modulus;
  return tube;
}

/// Travel times: stated, else from the cycle.
void set_times(const line::Line& line, const line::Twist& twist, JointJob& job) {
  std::optional<double> carry, back;
  if (const auto& cycle = line.cycle) {
    const double lift = cycle->lift ? cycle->lift->value : cycle->touch.value;
    carry = std::max(0.0, cycle->place.value - lift);
    const double placed = cycle->place.value;
    // Left out it comes at the end of the cycle, as in a pick; where nothing says when that is, with the place.
    const double retract = cycle->retract ? cycle->retract->value : cycle->period ? cycle->period->value : placed;
    if (!cycle->retract && !cycle->period)
      job.notes.emplace_back(
          "the [cycle] gives neither 'retract' nor 'period': the nozzle is taken to leave the part as soon as it is "
          "placed");
    job.other = std::max(0.0, retract - placed);
    if (cycle->period) back = std::max(0.0, cycle->period->value - retract + cycle->touch.value);
  }
  if (twist.carry) carry = twist.carry;
  if (twist.back) back = twist.back;
  if (!carry) job.notes.emplace_back("neither 'carry' nor a [cycle] is given: no travel hides the turning");
  if (carry && !back) job.notes.emplace_back("'back' is not given: the way back is taken to last as long as the other");
  job.carry = carry.value_or(0.0);
  job.back = back.value_or(job.carry);
}

}  // namespace

JointJob joint_job(const line::Line& line, const line::Twist& twist) {
  JointJob job;
  job.at = places(line, twist);
  job.own_tube = line.elements[job.at.front()].kind == line::Kind::tube;
  job.tube = tube_element(line, twist, job.at.front(), job.own_tube);
  set_times(line, twist, job);
  job.turning.angles = twist.angles.empty() ? uniform_angles(uniform_count) : twist.angles;
  job.turning.limit = twist.limit;
  job.turning.pick = twist.pick;
  job.turning.motor = {twist.motor.speed, twist.motor.acceleration};
  job.needs = needs_of_moves(line);
  if (twist.wait_for) std::fill(job.needs.begin(), job.needs.end(), *twist.wait_for);
  return job;
}

line::Line with_seal(const line::Line& line, const JointJob& job, const line::Element& seal) {
  line::Line changed = line;
  for (const std::size_t i : job.at) {
    line::Element& there = changed.elements[i];
    line::Element put = seal;
    put.name = there.name;
    put.after = there.after;
    put.joins = there.joins;
    put.gauge = there.gauge;
    put.where = there.where;
    put.after_at = there.after_at;
    put.joins_at = there.joins_at;
    there = std::move(put);
  }
  return changed;
}

std::optional<line::Element> joint_of(const line::Line& line, const JointJob& job,
                                      const std::vector<line::Seal>& seals) {
  if (!job.own_tube) return line.elements[job.at.front()];
  for (const line::Seal& seal : seals)
    if (!seal.element.leaks.empty() && std::holds_alternative<line::Clearance>(seal.element.leaks.front()))
      return seal.element;
  return seals.empty() ? std::nullopt : std::optional(seals.front().element);
}

Turns turns_of(const JointJob& job, bool tube, double pace) {
  TurningJob turning = job.turning;
  if (!tube) turning.limit.reset();
  turning.carry = pace * job.carry;
  turning.back = pace * job.back;
  return turns(turning);
}

}  // namespace airtally::study
