#include <fmt/format.h>

#include "read/element_private.hpp"

namespace airtally::read {
namespace {

using line::CurvePoint;

bool runs_backwards(const std::vector<CurvePoint>& points) {
  for (std::size_t i = 1; i < points.size(); ++i)
    if (points[i].vacuum.value >= points[i - 1].vacuum.value) return false;
  return points.size() > 1 && points.back().vacuum.value == 0.0;
}

std::vector<CurvePoint> read_points(TableReader& table, std::string_view key, const Limits& value) {
  std::vector<CurvePoint> points;
  const auto pairs = table.pairs(key, limits::vacuum, value);
  if (!pairs) return points;
  for (const auto& [vacuum, flow] : *pairs) points.push_back({vacuum, flow});
  if (runs_backwards(points)) {
    table.complain(key, fmt::format("the {} runs from the deepest vacuum to none; write its points the other way "
                                    "round, the one at \"0 kPa\" first.",
                                    key));
    return {};  // all else that could be said of it comes from that
  }
  if (points.size() < 2) table.complain(key, fmt::format("{} needs at least two points.", key));
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].vacuum.value > points[i - 1].vacuum.value) continue;
    table.complain(key,
                   fmt::format("the vacuum must rise from point to point of the {}, but that of point {} is not above "
                               "that of point {}.",
                               key, i + 1, i));
    break;
  }
  return points;
}

void check_suction(TableReader& table, const std::vector<CurvePoint>& points) {
  if (points.size() < 2) return;
  if (points.front().vacuum.value != 0.0) {
    table.complain("curve", "the first point of the curve must be at \"0 kPa\": the flow with nothing connected.");
  }
  if (points.front().value.value <= 0.0) {
    table.complain("curve", "the flow at the first point of the curve must be above nothing.");
  }
  if (points.back().value.value != 0.0) {
    table.complain(
        "curve",
        "the last point of the curve must have no flow (\"0 L/min\"): its vacuum is the deepest the pump pulls.");
  }
  if (points.back().vacuum.high >= limits::vacuum.high) {
    table.complain("curve",
                   "no pump reaches a vacuum of a whole atmosphere (101.325 kPa), where nothing would be left.");
  }
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].value.value < points[i - 1].value.value) continue;
    table.complain("curve",
                   fmt::format("the flow must fall from point to point of the curve, but that of point {} is not "
                               "below that of point {}.",
                               i + 1, i));
    break;
  }
}

void check_current(TableReader& table, const std::vector<CurvePoint>& points) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (points[i].value.value > 0.0) continue;
    table.complain(
        "current",
        fmt::format("point {} of the current has none at all: a motor that turns draws some at every vacuum, "
                    "and one that stalls before the last point of the curve is too weak for this pump. "
                    "Leave 'current' out where it is not known.",
                    i + 1));
    return;
  }
}

}  // namespace

line::Pump read_source(TableReader& table, line::Kind kind) {
  line::Pump pump;
  if (!table.has("curve")) {
    table.complain_here(
        "needs 'curve', vacuum against flow of free air, such as curve = [[\"0 kPa\", \"8 L/min\"], "
        "[\"70 kPa\", \"0 L/min\"]].");
  }
  pump.flow = read_points(table, "curve", limits::flow);
  check_suction(table, pump.flow);
  pump.back_leak = table.quantity("back-leak", limits::conductance);
  if (kind == line::Kind::ejector) {
    pump.supply = table.quantity("supply", limits::supply);
    pump.consumption = table.quantity("consumption", limits::flow);
    return pump;
  }
  pump.current = read_points(table, "current", limits::current);
  check_current(table, pump.current);
  pump.speed = table.quantity_or("speed", limits::speed, 1.0, "1, as its curve was taken");
  if (auto ripple = table.table("ripple")) {
    pump.ripple_frequency = ripple->needed("frequency", limits::frequency);
    pump.ripple_peak_to_peak = ripple->needed("peak-to-peak", limits::reading);
    ripple->refuse_unknown_keys("'ripple'");
  }
  return pump;
}

}  // namespace airtally::read
