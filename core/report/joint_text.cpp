#include "report/joint_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>

#include "gas/air.hpp"
#include "report/chart.hpp"
#include "report/needs.hpp"
#include "report/said_in.hpp"
#include "report/table.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::BreakEven;
using study::Joint;
using study::JointWay;
using units::Dimension;

std::string degrees(double radians, int decimals = 0) {
  return fmt::format("{:.{}f} deg", radians * 180.0 / std::numbers::pi, decimals);
}

/// For a row of a table: what all joints of a catalogue have in common is left out.
std::string name_of(const JointWay& way) {
  constexpr std::string_view common = "rotary joint, ";
  const std::string name = clean(way.name);
  if (way.own) return name + " (now)";
  return name.starts_with(common) ? name.substr(common.size()) : name;
}

std::string vacuums(const Joint& joint, const Look& look) {
  double most = 0.0, slowest = 0.0, latest = 0.0;
  for (const JointWay& way : joint.ways) {
    most = std::max({most, way.vacuum_part, way.vacuum_open, std::abs(way.margin)});
    slowest = std::max(slowest, way.settle);
    latest = std::max(latest, way.reach.value_or(0.0));
  }
  const Scale scale = vacuum_scale(look, most), settles = time_scale(slowest), lifts = time_scale(latest);
  Table table({{"way", "", true},
               {"tip open", scale.unit()},
               {"with part", scale.unit()},
               {"to spare", scale.unit()},
               {"settles", settles.unit()},
               {"may lift", lifts.unit()},
               {"pump runs", ""}});
  for (const JointWay& way : joint.ways)
    table.add({name_of(way), scale.number(way.vacuum_open), scale.number(way.vacuum_part), scale.number(way.margin),
               settles.number(way.settle), way.reach ? lifts.number(*way.reach) : "never",
               way.duty ? fmt::format("{:.1f} %", 100.0 * *way.duty) : "-"},
              !way.does());
  return table.text(look.style);
}

std::string turning(const Joint& joint, const Look& look) {
  Table table({{"way", "", true},
               {"turns", "ms"},
               {"late", "ms"},
               {"unwinds", "ms"},
               {"late", "ms"},
               {"torque", "mN m"},
               {"left", "mN m"},
               {"a thousand", "s"}});
  const auto ms = [](double s) { return fmt::format("{:.1f}", 1e3 * s); };
  const auto torque = [](const std::optional<double>& t) { return t ? fmt::format("{:.1f}", 1e3 * *t) : "-"; };
  for (const JointWay& way : joint.ways)
    table.add({name_of(way), ms(way.turns.carried_time), ms(way.turns.late), ms(way.turns.back_time),
               ms(way.turns.late_back), torque(way.torque), torque(way.torque_left),
               way.placement ? fmt::format("{:.1f}", 1e3 * *way.placement) : "-"},
              !way.does());
  return table.text(look.style);
}

std::string troubles(const line::Line& line, const Joint& joint) {
  std::string text;
  for (const JointWay& way : joint.ways)
    if (!way.does())
      text += paragraph(capital(joint_way(line, way)) + " does not do: " + listed(way.troubles) + ".", 80, 2);
  return text;
}

std::string tube_words(const line::Line& line, const Joint& joint, const Look& look) {
  const study::TwistedTube& t = joint.twisted;
  const study::Turns& turns = joint.ways[joint.tube].turns;
  std::string text = fmt::format(
      "Twisted by {}, {} holds back with {} and its surface is sheared by {:.2g} of {:.2g} allowed: {} of it would "
      "do. ",
      degrees(t.angle), joint_way(line, joint.ways[joint.tube]), fitting(t.torque, Dimension::torque), t.strain,
      t.allowed, fitting(t.shortest, Dimension::length));
  text += t.tightest
              ? fmt::format("Bent tighter than a radius of {} it kinks. ", fitting(*t.tightest, Dimension::length))
              : fmt::format("It flattens at {}. ", vacuum(look, t.flattens));
  if (turns.placements > 0)
    text += fmt::format("This job turns it by {} at most and unwinds before {:.0f} % of the placements.",
                        degrees(turns.farthest),
                        100.0 * static_cast<double>(turns.unwinds) / static_cast<double>(turns.placements));
  return text;
}

std::string curve(const Joint& joint, const Look& look) {
  const BreakEven& even = joint.even;
  const JointWay& tube = joint.ways[joint.tube];
  if (even.curve.size() < 2 || !tube.late) return "";
  const double unit = even.clearance ? 1e6 : 60e6 / gas::free_air_density;  // m to um, kg/s to mL/min of free air
  Chart chart;
  Curve joint_curve{"with the joint", {}, {}}, tube_curve{"with the twisted tube", {0.0}, {1e3 * *tube.late}};
  for (const study::JointPoint& point : even.curve) {
    tube_curve.x.push_back(unit * point.value);
    tube_curve.y.push_back(1e3 * *tube.late);
    if (!point.late) continue;
    joint_curve.x.push_back(unit * point.value);
    joint_curve.y.push_back(1e3 * *point.late);
  }
  if (joint_curve.x.empty()) return "";
  chart.curves = {joint_curve, tube_curve};
  chart.x_unit = even.clearance ? "um" : "mL/min";
  chart.y_unit = "ms";
  if (even.outcome == BreakEven::Outcome::found) {
    chart.mark = unit * even.value;
    chart.mark_text = fmt::format("both cost the same, {}",
                                  fitting(even.value, even.clearance ? Dimension::length : Dimension::flow));
  }
  return std::string(even.clearance ? "time of a placement beyond its travel, over the joint's clearance\n"
                                    : "time of a placement beyond its travel, over the joint's rated leak\n") +
         draw(chart, look.style) + '\n';
}

std::string how(const Joint& joint, const Look& look) {
  return fmt::format(
      "to spare: vacuum beyond what holding needs, at the widest gap. may lift: from ambient, part on, valves open, "
      "until {} {}, at the widest gap too. pump runs: switched on and off to keep just that vacuum, the pump runs for "
      "this share of the time. late: beyond the travel, which takes {} with the part and {} back. a thousand: "
      "placements, all in all, each with {} more for setting down. torque: seal or tube, and the speeding up of what "
      "turns. Angles: {}; seals of the catalogue stand at their middle values.",
      until_needs(joint.needs, look), joint.waits_stated ? "the machine waits for" : "the moves need",
      time(joint.carry), time(joint.back), time(joint.other),
      joint.angles > 0 ? counted(joint.angles, "placement") + ", again and again" : "anywhere in a turn");
}

}  // namespace

std::string joint_text(const line::Line& line, const Joint& joint, const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(joint_verdict(line, joint)) + '\n' + vacuums(joint, look) + '\n' + turning(joint, look) + '\n';
  const std::string bad = troubles(line, joint);
  if (!bad.empty()) out += bad + '\n';
  out += paragraph(tube_words(line, joint, look)) + '\n' + curve(joint, look);
  for (const std::string& row : wrap(how(joint, look), 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : joint.notes) out += paragraph("Note: " + said_in(look, note) + ".", 80, 2);
  out += paragraph(
      "Before you reach in: stop and lock out the moving axes; a spindle that waits turns without warning, and a "
      "twisted tube springs back when its motor lets go. Vacuum lets go when the power fails: where a dropped part can "
      "hurt someone, vacuum alone must not hold it.");
  return out;
}

}  // namespace airtally::report
