#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/joint_text.hpp"
#include "report/page/pictures.hpp"
#include "report/page/plot.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report::page {
namespace {

using study::BreakEven;
using study::Joint;
using study::JointWay;

}  // namespace

DataTable joint_ways(const Joint& joint) {
  double most = 0.0, slowest = 0.0;
  for (const JointWay& way : joint.ways) {
    most = std::max({most, way.vacuum_part, std::abs(way.margin)});
    slowest = std::max(slowest, way.reach.value_or(0.0));
  }
  const Scale times = time_scale(slowest);
  const auto moment = [&](const std::optional<double>& t) {
    return t ? measured(*t, times.number(*t)) : words("never");
  };
  DataTable table;
  table.caption = "Every way of letting the spindle turn, today's first";
  table.columns = {{"way", "", "", false},
                   {"with the part on", "joint.vacuum_part_pa", "", true},
                   {"to spare", "joint.margin_pa", "", true},
                   {"may lift", "joint.reach_s", times.unit(), false},
                   {"beyond its travel", "joint.late_s", times.unit(), false},
                   {"does the job", "", "", false}};
  for (std::size_t k = 0; k < joint.ways.size(); ++k) {
    const JointWay& way = joint.ways[k];
    table.rows.push_back({harmless(way.name),
                          {vacuum_cell(way.vacuum_part, most), vacuum_cell(way.margin, most), moment(way.reach),
                           moment(way.late), words(way.does() ? "yes" : "no: " + listed(way.troubles))},
                          joint.best == k});
  }
  return table;
}

namespace {

Plot axes_of(const BreakEven& even) {
  Plot plot;
  plot.id = "joint";
  plot.title = even.clearance ? "What a placement costs, over the joint's clearance"
                              : "What a placement costs, over the joint's leak";
  plot.x.label = even.clearance ? "clearance" : "leak, as it is rated";
  plot.x.unit = even.clearance ? units::find_unit("um", units::Dimension::length)
                               : units::find_unit(leak_scale(even.curve.back().value).unit(), units::Dimension::flow);
  plot.y.label = "time of a placement beyond its travel";
  return plot;
}

}  // namespace

std::optional<Picture> joint_or_tube(const Findings& found, const Units& units) {
  const Joint& joint = *found.joint;
  const BreakEven& even = joint.even;
  const JointWay& tube = joint.ways.at(joint.tube);
  if (even.curve.size() < 2 || !tube.late) return std::nullopt;
  Plot plot = axes_of(even);
  Series with_joint{"with a joint", {}, {}, Stroke::line, 1, {}, {}},
      with_tube{"with the twisted tube", {}, {}, Stroke::dashed, 3, {}, {}};
  double slowest = *tube.late;
  for (const study::JointPoint& point : even.curve) {
    with_tube.x.push_back(point.value);
    with_tube.y.push_back(*tube.late);
    if (!point.late) continue;
    with_joint.x.push_back(point.value);
    with_joint.y.push_back(*point.late);
    slowest = std::max(slowest, *point.late);
  }
  if (with_joint.x.empty()) return std::nullopt;
  plot.y.unit = units::find_unit(time_scale(slowest).unit(), units::Dimension::time);
  plot.series = {std::move(with_joint), std::move(with_tube)};
  const auto shown = [&](double si) {
    return even.clearance ? units::show_fitting(si, units::Dimension::length, 3) : leak_scale(si).text(si);
  };
  if (even.outcome == BreakEven::Outcome::found)
    plot.marks.push_back({even.value, "both cost the same, " + shown(even.value)});
  if (even.now > 0.0 && even.now <= even.curve.back().value)
    plot.marks.push_back({even.now, "the joint now, " + shown(even.now)});
  plot.text = joint_verdict(found.line, joint);
  fit_axes(plot, units);
  Picture picture = picture_of(plot, units);
  picture.legend =
      "What counts is the time that waiting for the vacuum and unwinding the tube add to a placement. Left of the "
      "crossing the joint costs less, right of it the tube.";
  if (even.outcome != BreakEven::Outcome::found)
    picture.legend = "What counts is the time that waiting for the vacuum and unwinding the tube add to a placement.";
  if (std::any_of(even.curve.begin(), even.curve.end(), [](const auto& point) { return !point.late; }))
    picture.legend += " Where the joint's curve ends, the tip no longer gets the vacuum that the machine waits for.";
  picture.table = joint_ways(joint);
  return picture;
}

}  // namespace airtally::report::page
