#include <algorithm>

#include "report/chart.hpp"
#include "report/said_in.hpp"
#include "report/table.hpp"
#include "report/text.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "study/first_of.hpp"

namespace airtally::report {
namespace {

using study::Rise;
using study::TipRise;

const TipRise& slowest(const Rise& rise) {
  return rise.tips[study::first_least(
      rise.tips, [](const TipRise& tip) { return -tip.settle; }, study::time_tie)];
}

}  // namespace

std::string rise_verdict(const line::Line& line, std::span<const solve::TipState> tips, const Rise& rise,
                         const Look& look) {
  const bool alike = std::all_of(rise.tips.begin(), rise.tips.end(), [&](const TipRise& tip) {
    return time(tip.settle) == time(rise.settle) && vacuum(look, tip.final_vacuum) == vacuum(look, rise.final_vacuum);
  });
  std::string text = capital(state_phrase(tips)) + ", ";
  if (rise.final_vacuum < study::least_vacuum)
    return text + (rise.tips.size() == 1 ? "the tip comes" : "the tips come") + " to " +
           vacuum(look, rise.final_vacuum) + ": too little for a settle time.";
  if (rise.tips.size() == 1)
    text += "the tip settles";
  else if (alike)
    text += "the " + std::to_string(rise.tips.size()) + " tips settle";
  else
    text += "the slowest tip, " + name(line, slowest(rise).element) + ", settles";
  text += " in " + time(rise.settle) + " at " + vacuum(look, rise.final_vacuum) + ": from then on " +
          (alike && rise.tips.size() > 1 ? "they stay" : "it stays") + " within 5 % of that.";
  return text;
}

namespace {

/// The places worth a curve: what was asked for, or of the tips only the slowest, which stands for all.
std::vector<std::size_t> shown(const Rise& rise) {
  const bool only_tips = rise.places.size() == rise.tips.size() &&
                         std::equal(rise.places.begin(), rise.places.end(), rise.tips.begin(),
                                    [](std::size_t place, const TipRise& tip) { return place == tip.element; });
  std::vector<std::size_t> indices;
  for (std::size_t k = 0; k < rise.places.size(); ++k)
    if (!only_tips || rise.places[k] == slowest(rise).element) indices.push_back(k);
  return indices;
}

std::string curve(const line::Line& line, const Rise& rise, const Look& look) {
  const double end = rise.samples.empty() ? 0.0 : rise.samples.back().time;
  const Scale times = time_scale(end);
  Chart chart;
  chart.x_unit = times.unit();
  chart.y_unit = std::string(look.vacuum->symbol);
  const units::Unit* second = units::find_unit(chart.x_unit, units::Dimension::time);
  for (const std::size_t k : shown(rise)) {
    Curve c{name(line, rise.places[k]), {}, {}};
    for (const auto& sample : rise.samples) {
      c.x.push_back(units::from_si(sample.time, *second));
      c.y.push_back(units::from_si(sample.vacuum.at(k), *look.vacuum));
    }
    chart.curves.push_back(std::move(c));
  }
  if (rise.settle > 0.0 && rise.settle <= end) {
    chart.mark = units::from_si(rise.settle, *second);
    chart.mark_text = "settled, " + time(rise.settle);
  }
  const std::string what = chart.curves.size() == 1 ? "vacuum, " + chart.curves.front().name : "vacuum";
  return look.style.dim(cut(what, 80, look.style.cut_mark())) + '\n' + draw(chart, look.style);
}

std::string tips_table(const line::Line& line, const Rise& rise, const Look& look) {
  double final_vacuum = 0.0;
  for (const TipRise& tip : rise.tips) final_vacuum = std::max(final_vacuum, tip.final_vacuum);
  const Scale times = time_scale(rise.settle), vacuums = vacuum_scale(look, final_vacuum);
  Table table({{"tip", "", true}, {"settles in", times.unit()}, {"at", vacuums.unit()}});
  for (const TipRise& tip : rise.tips)
    table.add({name(line, tip.element), times.number(tip.settle), vacuums.number(tip.final_vacuum)});
  table.merge_alike(all_tips(rise.tips.size()));
  return table.text(look.style);
}

}  // namespace

std::string rise_text(const line::Line& line, std::span<const solve::TipState> tips, const Rise& rise,
                      const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(rise_verdict(line, tips, rise, look));
  // Where nothing comes there is nothing to draw but what rounding leaves.
  const bool moves = std::any_of(rise.samples.begin(), rise.samples.end(), [](const study::RiseSample& sample) {
    return std::any_of(sample.vacuum.begin(), sample.vacuum.end(),
                       [](double v) { return std::abs(v) >= study::least_vacuum; });
  });
  if (moves) out += '\n' + curve(line, rise, look);
  if (rise.tips.size() > 1) out += '\n' + tips_table(line, rise, look);
  out += '\n';
  for (const std::string& warning : rise.warnings)
    for (const std::string& row : wrap("Warning: " + said_in(look, warning), 80, 2))
      out += look.style.warning(row) + '\n';
  std::string how = "From the room's pressure, pump at full speed and valves open.";
  if (rise.segments > 1)
    how += " Long tubes were cut into " + std::to_string(rise.segments) + " pieces, until the answer stood still.";
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  return out;
}

}  // namespace airtally::report
