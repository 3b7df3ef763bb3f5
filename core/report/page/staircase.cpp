#include <algorithm>
#include <cmath>

#include "line/topology.hpp"
#include "report/page/pictures.hpp"
#include "report/page/plot.hpp"
#include "report/strip_columns.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

using solve::TipState;

/// The elements from the source to that one.
std::vector<std::size_t> way_to(const line::Topology& topology, std::size_t element) {
  std::vector<std::size_t> way{element};
  while (topology.before[way.back()] != line::none) way.push_back(topology.before[way.back()]);
  std::reverse(way.begin(), way.end());
  return way;
}

std::vector<TipState> states_of(const solve::SteadyAnswer& answer) {
  std::vector<TipState> states;
  states.reserve(answer.tips.size());
  for (const solve::Tip& tip : answer.tips) states.push_back(tip.state);
  return states;
}

/// Where in its column an element's vacuum falls: level before and after, a steep step between.
constexpr double step_begins = 0.32, step_ends = 0.68;

Series stairs(const solve::SteadyAnswer& answer, const std::vector<std::size_t>& way) {
  Series series{capital(state_phrase(states_of(answer))), {}, {}, Stroke::line, 1, {}, {}};
  double before = answer.elements.at(way.front()).vacuum;
  for (std::size_t k = 0; k < way.size(); ++k) {
    const double here = answer.elements.at(way[k]).vacuum, at = static_cast<double>(k);
    for (const auto& [x, y] :
         {std::pair(at, before), std::pair(at + step_begins, before), std::pair(at + step_ends, here)}) {
      if (k > 0 && x == at) continue;  // the column before ended there
      series.x.push_back(x);
      series.y.push_back(y);
    }
    series.x.push_back(at + 1.0);
    series.y.push_back(here);
    before = here;
  }
  return series;
}

/// The gauge's predicted readings of the removal test, each at the element behind which the line is capped.
Series predicted(const Findings& found, const std::vector<std::size_t>& way) {
  Series series{"Removal test: the gauge, capped there", {}, {}, Stroke::rings, 4, {}, {}};
  for (std::size_t k = 0; k < way.size(); ++k)
    for (const study::StripStep& step : found.strip.steps) {
      if (step.cap != way[k]) continue;
      const auto value = reading(step.readings, {found.strip.judge, false});
      if (!value) continue;
      series.x.push_back(static_cast<double>(k) + 0.5);
      series.y.push_back(*value);
    }
  return series;
}

/// Readings of a gauge that were taken: capped, at the cap's element; with the line whole, at the gauge's own.
Series read_off(const Findings& found, const std::vector<std::size_t>& way) {
  Series series{"Your readings", {}, {}, Stroke::points, 4, {}, {}};
  std::vector<std::pair<double, double>> points;
  for (const hunt::Compared& compared : found.hunt->readings) {
    const hunt::Reading& r = compared.reading;
    if (!is_gauge(r.instrument) || r.setting.hole > 0.0 || !r.setting.off.empty()) continue;
    const auto at = std::find(way.begin(), way.end(), r.setting.cap.value_or(r.at));
    if (at == way.end()) continue;
    points.emplace_back(static_cast<double>(at - way.begin()) + (r.setting.cap ? 0.5 : 0.85), r.value);
  }
  std::sort(points.begin(), points.end());
  for (const auto& [x, y] : points) series.x.push_back(x), series.y.push_back(y);
  return series;
}

DataTable table_of(const Findings& found, const std::vector<std::size_t>& way) {
  DataTable table;
  table.caption =
      "Vacuum on the way to " + the(found.line.elements[way.back()]) + ", at each element's end towards the tip";
  table.columns.push_back({"element", "", "", false});
  double top = 0.0;
  for (const auto& answer : found.steady) {
    const auto states = states_of(answer);
    table.columns.push_back({state_phrase(states), "steady." + std::string(word(states)) + ".vacuum_pa", "", true});
    for (const auto& e : answer.elements) top = std::max(top, std::abs(e.vacuum));
  }
  table.columns.push_back({"drop, " + state_phrase(found.tips), "steady.usual.drop_pa", "", true});
  table.columns.push_back({"gauge, capped there", "strip.vacuum_pa", "", true});
  for (const std::size_t i : way) {
    DataTable::Row row{harmless(found.line.elements[i].name), {}, false};
    for (const auto& answer : found.steady) row.cells.push_back(vacuum_cell(answer.elements.at(i).vacuum, top));
    const line::Kind kind = found.line.elements[i].kind;
    row.cells.push_back(line::is_source(kind) || line::is_place(kind)
                            ? nothing()
                            : vacuum_cell(found.steady.front().elements.at(i).drop, top));
    Cell gauge = nothing();
    for (const study::StripStep& step : found.strip.steps)
      if (step.cap == i)
        if (const auto value = reading(step.readings, {found.strip.judge, false})) gauge = vacuum_cell(*value, top);
    row.cells.push_back(gauge);
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace

Picture staircase(const Findings& found, std::size_t nozzle, const Units& units) {
  const solve::SteadyAnswer& usual = found.steady.front();
  const std::size_t tip = usual.tips.at(nozzle).element;
  const std::vector<std::size_t> way = way_to(line::topology(found.line), tip);
  Plot plot;
  plot.id = nozzle == found.ranking.nozzle ? "staircase" : "staircase-" + std::to_string(nozzle + 1);
  plot.title =
      "Vacuum along the line, from " + the(found.line.elements[way.front()]) + " to " + the(found.line.elements[tip]);
  plot.x.of = Axis::Of::place;
  for (const std::size_t i : way) plot.x.places.push_back(harmless(found.line.elements[i].name));
  plot.y.of = Axis::Of::vacuum;
  plot.y.label = "vacuum";
  for (std::size_t k = 0; k < found.steady.size(); ++k) {
    plot.series.push_back(stairs(found.steady[k], way));
    plot.series.back().colour = static_cast<int>(k) + 1;
    plot.series.back().stroke = k == 0 ? Stroke::line : k == 1 ? Stroke::dashed : Stroke::dotted;
  }
  if (!found.strip.by_current) plot.series.push_back(predicted(found, way));
  if (found.hunt && !found.hunt->readings.empty()) plot.series.push_back(read_off(found, way));
  fit_axes(plot, units);
  for (std::size_t k = 1; k < way.size(); ++k) {
    const double after = usual.elements.at(way[k]).vacuum, before = usual.elements.at(way[k - 1]).vacuum;
    if (std::abs(before - after) < 0.002 * plot.y.top) continue;
    plot.notes.push_back({static_cast<double>(k) + step_ends - 0.1, 0.5 * (before + after), after - before,
                          harmless(found.line.elements[way[k]].name)});
  }
  plot.text = capital(state_phrase(found.tips)) + ", " + the(found.line.elements[way.front()]) + " pulls " +
              report::vacuum(units.first(), usual.elements.at(way.front()).vacuum) + " and " +
              report::vacuum(units.first(), usual.elements.at(tip).vacuum) + " of it reach the end of " +
              the(found.line.elements[tip]) + ". The table below has every step.";
  Picture picture = picture_of(plot, units);
  picture.legend = "Each column is an element; the line falls where it loses vacuum, and the number is what it loses " +
                   state_phrase(found.tips) + ". ";
  if (!found.strip.by_current)
    picture.legend += std::string("Rings: what ") + (found.strip.assumed_gauge ? "a gauge at " : "the gauge at ") +
                      the(found.line.elements[found.strip.judge]) +
                      " should read with everything beyond that element off and its end blocked.";
  picture.table = table_of(found, way);
  return picture;
}

}  // namespace airtally::report::page
