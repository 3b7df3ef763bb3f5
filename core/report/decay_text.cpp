#include "report/decay_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "gas/air.hpp"
#include "hunt/beliefs/priors.hpp"
#include "report/chart.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using hunt::Decay;
using hunt::Inflow;
using hunt::Spread90;

/// `per`: what stands behind each unit.
std::string range(const Spread90& s, units::Dimension dimension, const char* per = "") {
  const auto show = [&](double value) { return units::show_fitting(value, dimension, 3) + per; };
  if (!(s.low > 0.0)) return fmt::format("at most {}", show(s.high));
  if (!(s.high > 0.0)) return fmt::format("at least {}", show(s.low));
  return fmt::format("{} (nine in ten: {} to {})", show(s.median), show(s.low), show(s.high));
}

/// A value times `factor`; a range by its ends.
std::string stated(const units::Quantity& value, double factor, units::Dimension dimension) {
  const auto show = [&](double one) { return units::show_fitting(one * factor, dimension, 3); };
  return value.spread == units::Spread::uniform ? fmt::format("{} to {}", show(value.low), show(value.high))
                                                : show(value.value);
}

std::string drawn(const Decay& decay, const Look& look) {
  const std::vector<double>& time = decay.log.time;
  const Scale times = time_scale(time.back() - time[decay.first]);
  const units::Unit* second = units::find_unit(times.unit(), units::Dimension::time);
  Chart chart;
  chart.x_unit = times.unit();
  chart.y_unit = std::string(look.vacuum->symbol);
  Curve measured{"measured", {}, {}}, fitted{"fitted", {}, {}};
  const std::size_t rows = time.size() - decay.first;
  const std::size_t stride = std::max<std::size_t>(1, rows / most_log_points);
  for (std::size_t i = 0; i < rows; ++i) {
    const double t = units::from_si(time[decay.first + i] - time[decay.first], *second);
    const auto add = [&](Curve& curve, double vacuum) {
      curve.x.push_back(t);
      curve.y.push_back(units::from_si(std::max(vacuum, 0.0), *look.vacuum));
    };
    if (i % stride == 0) add(measured, decay.log.vacuum[decay.first + i]);
    if (!decay.least_only) add(fitted, decay.fitted[i]);
  }
  chart.curves = {std::move(measured)};
  if (!decay.least_only) chart.curves.push_back(std::move(fitted));
  return draw(chart, look.style);
}

/// Where the fit is farthest from the log: an index into the fitted rows.
std::size_t farthest(const Decay& decay) {
  std::size_t worst = 0;
  const auto miss = [&](std::size_t i) { return std::fabs(decay.fitted[i] - decay.log.vacuum[decay.first + i]); };
  for (std::size_t i = 1; i < decay.fitted.size(); ++i)
    if (miss(i) > miss(worst)) worst = i;
  return worst;
}

/// How far a drilled hole's flow may be from what its diameter says.
std::string hole_doubt(double deviation) {
  if (!(deviation > 0.0)) return "";
  const double factor = std::exp(hunt::z90 * deviation);
  return fmt::format(
      " What a drilled hole lets in is known to {:.2f} to {:.2f} times what is taken (discharge 0.72), nine in ten; a "
      "measured --leak is surer.",
      1.0 / factor, factor);
}

std::string verdict(const DecayQuestion& q, const Look& look) {
  const Decay& decay = q.decay;
  if (!decay.follows)
    return fmt::format(
        "No {} can be told: these rows are not how one volume, shut off, loses its vacuum. The nearest such course is "
        "off by {} on the average (rms), most at {}. Cut the log to what lies between shutting off and the next "
        "change, and ask again.",
        q.leak ? "volume" : "leak", vacuum(look, decay.rms), time(decay.log.time[decay.first + farthest(decay)]));
  if (q.leak)
    return fmt::format("The volume is {}.",
                       range(hunt::volume_of(decay, *q.leak, q.site, q.leak_deviation), units::Dimension::volume)) +
           hole_doubt(q.leak_deviation);
  const std::string at = units::show(hunt::leak_vacuum(q.site), "kPa", 0);
  if (q.volume)
    return fmt::format("The leak is {} of free air at {} vacuum, with a volume of {}{}.",
                       range(hunt::leak_of(decay, *q.volume, q.site), units::Dimension::flow), at,
                       stated(*q.volume, 1.0, units::Dimension::volume),
                       q.volume_from.empty() ? "" : " (" + q.volume_from + ")");
  return fmt::format(
      "The pressure rises by {} at {} vacuum. With --volume that is a leak, with --leak or --hole a volume.",
      range(decay.rate, units::Dimension::pressure, "/s"), at);
}

/// When the vacuum of a log that tells but a least leak had all but come to its least [s].
double gone_at(const Decay& decay) {
  const std::vector<double>& v = decay.log.vacuum;
  const auto from = v.begin() + static_cast<std::ptrdiff_t>(decay.first);
  const double half = 0.5 * (*from + *std::min_element(from, v.end()));
  const auto row = std::find_if(from, v.end(), [&](double vacuum) { return vacuum < half; });
  return decay.log.time[static_cast<std::size_t>(row - v.begin())];
}

/// What else may have made the rise.
std::string doubts(const DecayQuestion& q) {
  const Decay& decay = q.decay;
  std::string text;
  if (!decay.follows) return text;
  if (decay.least_only)
    return fmt::format(
        "The vacuum is gone at {}, before a course can be seen. Log more rows a second, or shut off a larger volume.",
        time(gone_at(decay)));
  if (!(decay.drift_alone > 0.0))
    text += "The log shows no loss at all: this is what drift of temperature and its last digit could hide. ";
  else if (decay.drift_shown)
    text += fmt::format(
        "Not shown to be a leak: a change of temperature by {:.2g} K would make the whole of this rise. Let the line "
        "stand for longer, at an even temperature. ",
        decay.drift_alone);
  if (decay.outgassing > 0.0)
    text += fmt::format(
        "{:.0f} % of the rise goes as one over the time, faster than the vacuum falls: gas out of soft tube or wet "
        "walls, not a leak. It is taken off. ",
        100.0 * std::min(decay.outgassing, 1.0));
  if (!decay.leak_shown)
    text += "That alone explains the log; no leak is shown. Pump for longer before shutting off, or log for longer. ";
  return text;
}

/// The course that fits best, and whether the log leaves the other kind of leak likely.
std::string course_taken(const Decay& decay, const Look& look) {
  const bool hole = decay.inflow == Inflow::orifice;
  std::string text =
      fmt::format(" The {} fits best, to {} on the average (rms); {} of temperature drift allowed for.",
                  hole ? "course of a hole, choked at first," : "course of a laminar leak, a seal or a fitting,",
                  vacuum(look, decay.rms), units::show(decay.drift, "K", 1));
  if (decay.follows && !hunt::tells_inflow(decay))
    text += fmt::format(
        " But {}'s fits as well, or nearly ({:.0f} % likely): the log does not tell a hole from a seal, and the range "
        "holds both. A longer log would.",
        hole ? "a laminar leak" : "a hole", 100.0 * decay.courses[1].probability);
  return text;
}

}  // namespace

std::string decay_text(const DecayQuestion& q, const Look& look) {
  const Decay& decay = q.decay;
  std::string out = look.style.bold(cut("Decay of " + clean(decay.log.file), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(verdict(q, look)) + '\n';
  if (const std::string text = doubts(q); !text.empty()) out += paragraph(text) + '\n';
  out += drawn(decay, look) + '\n';
  std::string taken =
      fmt::format("Taken as shut off from {} on, its deepest vacuum.", time(decay.log.time[decay.first]));
  const bool course = !decay.least_only && decay.drift_alone > 0.0;
  if (course) taken += course_taken(decay, look);
  out += paragraph(taken);
  if (q.volume && course && decay.follows)
    out += paragraph(
        fmt::format("By two points only, Q = V dp/t (the pressure change method of EN 13184): {} on the average of the "
                    "log, at {}.",
                    stated(*q.volume, decay.two_point_rate / (gas::R * q.site.temperature), units::Dimension::flow),
                    vacuum(look, q.site.pressure - decay.mean_pressure)));
  if (decay.log.gaps > 0)
    out += paragraph(counted(decay.log.gaps, "row") + " left out: a cell in it is empty, \"-\" or \"nan\".");
  for (const std::string& note : decay.log.notes) out += paragraph("Note: " + note + '.');
  out += paragraph(
      "Shut off by a check valve or a clamp on the hose, with the pump's drive locked out; what the vacuum holds may "
      "fall while it decays.");
  return out;
}

}  // namespace airtally::report
