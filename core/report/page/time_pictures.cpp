// Curves over time: pull-down, measured log, one pick.
#include <algorithm>
#include <cmath>

#include "report/cycle_timeline.hpp"
#include "report/page/needs.hpp"
#include "report/page/pictures.hpp"
#include "report/page/plot.hpp"
#include "report/safe_side.hpp"
#include "report/verdicts.hpp"
#include "report/words.hpp"
#include "study/first_of.hpp"

namespace airtally::report::page {
namespace {

constexpr std::size_t table_rows = 25;

Plot over_time(std::string id, std::string title, double end) {
  Plot plot;
  plot.id = std::move(id);
  plot.title = std::move(title);
  plot.x.label = "time";
  plot.x.unit = units::find_unit(time_scale(end).unit(), units::Dimension::time);
  plot.y.of = Axis::Of::vacuum;
  plot.y.label = "vacuum";
  return plot;
}

Stroke stroke_of(std::size_t k) { return k == 0 ? Stroke::line : k % 2 == 1 ? Stroke::dashed : Stroke::dotted; }

/// A table of every few samples of the curves; all share the times of the first.
DataTable samples_table(const Plot& plot, const std::string& caption, const std::string& key) {
  DataTable table;
  table.caption = caption;
  table.columns = {{"time", "", std::string(plot.x.unit->symbol), false}};
  for (const Series& s : plot.series) table.columns.push_back({s.name, key + '.' + s.name, "", true});
  const std::vector<double>& times = plot.series.front().x;
  const std::size_t stride = std::max<std::size_t>(1, (times.size() + table_rows - 2) / (table_rows - 1));
  for (std::size_t i = 0; i < times.size(); i += stride) {
    const Scale scale = time_scale(times.back());
    DataTable::Row row{scale.number(times[i]), {}, false};
    for (const Series& s : plot.series)
      row.cells.push_back(i < s.y.size() && std::isfinite(s.y[i]) ? vacuum_cell(s.y[i], plot.y.top) : nothing());
    table.rows.push_back(std::move(row));
  }
  return table;
}

const study::TipRise& slowest(const study::Rise& rise) {
  return rise.tips[study::first_least(
      rise.tips, [](const auto& tip) { return -tip.settle; }, study::time_tie)];
}

/// The band of a curve, at its own few moments.
void add_band(Plot& plot, const Banded& banded, int colour) {
  Series band{"median, band: nine in ten", {}, {}, Stroke::dotted, colour, {}, {}};
  const auto& measures = banded.question.measures;
  for (std::size_t m = 0; m < measures.size(); ++m) {
    if (measures[m].time < 0.0) continue;
    const study::Band& here = banded.bands.bands.at(m);
    band.x.push_back(measures[m].time);
    band.y.push_back(here.median);
    band.low.push_back(here.low);
    band.high.push_back(here.high);
  }
  if (!band.x.empty()) plot.series.push_back(std::move(band));
}

}  // namespace

Picture rise_curve(const Findings& found, const Units& units) {
  const study::Rise& rise = found.rise;
  const double end = rise.samples.empty() ? 0.0 : rise.samples.back().time;
  Plot plot = over_time("rise", "Pull-down from an open room", end);
  plot.text = rise_verdict(found.line, found.tips, rise, units.first());
  for (std::size_t k = 0; k < rise.places.size(); ++k) {
    const line::Element& element = found.line.elements[rise.places[k]];
    // Of the tips only the slowest, which stands for all.
    if (element.kind == line::Kind::nozzle && rise.places[k] != slowest(rise).element) continue;
    const std::size_t drawn_so_far = plot.series.size();
    Series series{
        harmless(element.name), {}, {}, stroke_of(drawn_so_far), static_cast<int>(drawn_so_far % 6) + 1, {}, {}};
    if (element.gauge) series.name += ", gauge";
    for (const study::RiseSample& sample : rise.samples) {
      series.x.push_back(sample.time);
      series.y.push_back(sample.vacuum.at(k));
    }
    plot.series.push_back(std::move(series));
  }
  const Plot without_band = plot;
  if (found.rise_bands) add_band(plot, *found.rise_bands, 1);
  if (rise.settle > 0.0 && rise.settle <= end) plot.marks.push_back({rise.settle, "settled, " + time(rise.settle)});
  fit_axes(plot, units);
  Picture picture = picture_of(plot, units);
  Plot tabled = without_band;
  fit_axes(tabled, units);
  picture.table = samples_table(tabled, "Vacuum over time, " + state_phrase(found.tips), "rise");
  picture.legend = "From the room's pressure, pump at full speed and valves open. Settled: from then on " +
                   name(found.line, slowest(rise).element) + " stays within 5 % of its final vacuum.";
  return picture;
}

Picture log_curve(const Findings& found, const Units& units) {
  const hunt::RiseFit& fit = *found.log;
  Plot plot = over_time("log", "The measured pull-down beside the line's own", fit.log.time.back());
  constexpr std::size_t most_points = 400;
  const std::size_t stride = std::max<std::size_t>(1, fit.log.time.size() / most_points);
  Series written{"as the file says", {}, {}, Stroke::dashed, 1, {}, {}},
      read{"measured", {}, {}, Stroke::line, 4, {}, {}}, fitted_series{"fitted", {}, {}, Stroke::dotted, 3, {}, {}};
  for (std::size_t i = 0; i < fit.log.time.size(); i += stride) {
    if (fit.log.time[i] < 0.0) continue;
    for (Series* s : {&written, &read, &fitted_series}) s->x.push_back(fit.log.time[i]);
    read.y.push_back(fit.log.vacuum[i]);
    written.y.push_back(fit.predicted[i]);
    if (!fit.fitted.empty()) fitted_series.y.push_back(fit.fitted[i]);
  }
  plot.series = {read, written};
  if (!fit.fitted.empty()) plot.series.push_back(fitted_series);
  plot.text = "Measured at " + the(found.line.elements[fit.element]) + ": the line as its file says is off by " +
              report::vacuum(units.first(), fit.before.rms) + " rms.";
  fit_axes(plot, units);
  Picture picture = picture_of(plot, units);
  picture.legend = plot.text;
  picture.table =
      samples_table(plot, "Measured and predicted vacuum at " + the(found.line.elements[fit.element]), "log");
  return picture;
}

Picture cycle_curve(const Findings& found, const Units& units) {
  const study::CycleAnswer& cycle = *found.cycle;
  Plot plot = over_time("cycle", "One whole pick", cycle.end - cycle.begin);
  plot.text = cycle_verdict(found.line, cycle, units.first());
  for (std::size_t k = 0; k < cycle.places.size(); ++k) {
    const study::CyclePlace& place = cycle.places[k];
    Series series{harmless(found.line.elements[place.element].name) + (place.gauge    ? ", gauge"
                                                                       : place.source ? ""
                                                                                      : ", mouth"),
                  {},
                  {},
                  stroke_of(k),
                  static_cast<int>(k % 6) + 1,
                  {},
                  {}};
    for (const study::CycleSample& sample : cycle.samples) {
      series.x.push_back(sample.time);
      series.y.push_back(sample.vacuum.at(k));
    }
    plot.series.push_back(std::move(series));
  }
  const study::HeadCycle& head = cycle.heads.at(cycle.slowest);
  plot.marks.push_back({head.touch, "meets the part, " + time(head.touch)});
  if (head.safe_lift)
    plot.marks.push_back({*head.safe_lift, "may lift, " + no_less_than(*head.safe_lift, units::Dimension::time)});
  if (takes_up(head)) plot.marks.push_back({head.place, "puts down, " + time(head.place)});
  if (head.let_go && takes_up(head)) plot.marks.push_back({*head.let_go, "lets go, " + time(*head.let_go)});
  double deepest = 0.0;
  for (const Series& one : plot.series) deepest = std::max(deepest, *std::max_element(one.y.begin(), one.y.end()));
  plot.levels = needs(found.line, cycle, deepest);
  fit_axes(plot, units);
  const DataTable table = samples_table(plot, "Vacuum over one pick", "cycle");
  if (found.cycle_bands) {
    add_band(plot, *found.cycle_bands, static_cast<int>(cycle.slowest % 6) + 1);
    fit_axes(plot, units);
  }
  Picture picture = picture_of(plot, units);
  picture.legend =
      "Dotted upright lines are moments of the pick; level lines are what the part needs, safety included. May lift: "
      "from then on that vacuum is there until the part is put down.";
  if (found.cycle_bands)
    picture.legend += " Band: nine in ten of the lines that the file's tolerances allow, at the mouth of " +
                      name(found.line, head.nozzle) + ".";
  picture.table = table;
  return picture;
}

}  // namespace airtally::report::page
