#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/chart.hpp"
#include "report/rise_log.hpp"
#include "report/table.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

std::string drawn(const hunt::RiseFit& fit, const Look& look) {
  const Scale times = time_scale(fit.log.time.back());
  const units::Unit* second = units::find_unit(times.unit(), units::Dimension::time);
  Chart chart;
  chart.x_unit = times.unit();
  chart.y_unit = std::string(look.vacuum->symbol);
  Curve measured{"measured", {}, {}}, predicted{"as the file says", {}, {}};
  const std::size_t stride = std::max<std::size_t>(1, fit.log.time.size() / most_log_points);
  for (std::size_t i = 0; i < fit.log.time.size(); ++i) {
    if (fit.log.time[i] < 0.0) continue;
    const double t = units::from_si(fit.log.time[i], *second);
    const auto add = [&](Curve& curve, double vacuum) {
      curve.x.push_back(t);
      curve.y.push_back(units::from_si(std::max(vacuum, 0.0), *look.vacuum));
    };
    if (i % stride == 0) add(measured, fit.log.vacuum[i]);
    add(predicted, fit.predicted[i]);
  }
  chart.curves = {std::move(measured), std::move(predicted)};
  return draw(chart, look.style);
}

std::string factor(const char* what, const hunt::FittedFactor& f, const char* less, const char* more) {
  const double off = std::fabs(f.value - 1.0);
  std::string text = fmt::format("{} {:.4f} +- {:.4f} (one standard deviation)", what, f.value, f.error);
  if (off > 2.0 * f.error) text += fmt::format(": {}", f.value > 1.0 ? more : less);
  return text + '.';
}

}  // namespace

std::string rise_log_text(const line::Line& line, const hunt::RiseFit& fit, const Look& look) {
  const auto paragraph = [&](const std::string& text) {
    std::string out;
    for (const std::string& row : wrap(text, 80)) out += row + '\n';
    return out;
  };
  const std::string rows = counted(fit.log.time.size(), "row");
  std::string out = '\n' + look.style.bold(cut("Beside the log " + fit.log.file, 80, look.style.cut_mark())) + '\n';
  out += drawn(fit, look) + '\n';
  out += paragraph(fmt::format(
      "{} at {}: the line as its file says is off by {} on the average (rms), at worst by {} at {}, where it reads {}.",
      rows, name(line, fit.element), vacuum(look, fit.before.rms), vacuum(look, std::fabs(fit.before.worst)),
      time(std::max(fit.before.worst_at, 0.0)), fit.before.worst > 0.0 ? "too deep" : "too shallow"));
  if (fit.volume && fit.pump_flow) {
    out += paragraph(factor("Volumes fit best times", *fit.volume, "the line holds less air than its file says",
                            "the line holds more air than its file says"));
    out += paragraph(factor("The pump's flow fits best times", *fit.pump_flow, "it takes less than its curve says",
                            "it takes more than its curve says"));
    out += paragraph(fmt::format("With both the line is off by {} on the average, at worst by {}.",
                                 vacuum(look, fit.after.rms), vacuum(look, std::fabs(fit.after.worst))));
  } else {
    out += paragraph(
        "Volume and pump can't be told apart by this log; it needs to last until the vacuum stands still, with a leak "
        "or an open tip.");
  }
  if (fit.log.gaps > 0)
    out += paragraph(counted(fit.log.gaps, "row") + " left out: a cell in it is empty, \"-\" or \"nan\".");
  for (const std::string& note : fit.log.notes) out += paragraph("Note: " + note + '.');
  return out;
}

}  // namespace airtally::report
