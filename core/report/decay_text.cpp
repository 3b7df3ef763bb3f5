#include "report/decay_text.hpp"

#include <fmt/format.h>

#include <algorithm>

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

constexpr std::size_t most_points = 60;  ///< of the log in the chart, so that the other curve shows between them

std::string range(const Spread90& s, units::Dimension dimension) {
  const auto show = [&](double value) { return units::show_fitting(value, dimension, 3); };
  if (!(s.low > 0.0)) return fmt::format("at most {}", show(s.high));
  if (!(s.high > 0.0)) return fmt::format("at least {}", show(s.low));
  return fmt::format("{} (nine in ten: {} to {})", show(s.median), show(s.low), show(s.high));
}

std::string drawn(const Decay& decay, const Look& look) {
  const std::vector<double>& time = decay.log.time;
  const Scale times = time_scale(time.back() - time[decay.first]);
  const units::Unit* second = units::find_unit(times.unit(), units::Dimension::time);
  Chart chart;
  chart.x_unit = times.unit();
  chart.y_unit = std::string(look.vacuum->symbol);
  Curve measured{"measured", {}, {}}, fitted{"fitted", {}, {}};
  const std::size_t stride = std::max<std::size_t>(1, decay.fitted.size() / most_points);
  for (std::size_t i = 0; i < decay.fitted.size(); ++i) {
    const double t = units::from_si(time[decay.first + i] - time[decay.first], *second);
    const auto add = [&](Curve& curve, double vacuum) {
      curve.x.push_back(t);
      curve.y.push_back(units::from_si(std::max(vacuum, 0.0), *look.vacuum));
    };
    if (i % stride == 0) add(measured, decay.log.vacuum[decay.first + i]);
    add(fitted, decay.fitted[i]);
  }
  chart.curves = {std::move(measured), std::move(fitted)};
  return draw(chart, look.style);
}

std::string verdict(const DecayQuestion& q) {
  const Decay& decay = q.decay;
  std::string text;
  if (q.leak) {
    text = fmt::format("The volume is {}.", range(hunt::volume_of(decay, *q.leak, q.site), units::Dimension::volume));
  } else if (q.volume) {
    text = fmt::format("The leak is {} of free air at {} vacuum, with a volume of {}{}.",
                       range(hunt::leak_of(decay, *q.volume, q.site), units::Dimension::flow),
                       units::show(hunt::leak_vacuum(q.site), "kPa", 0),
                       units::show_fitting(q.volume->value, units::Dimension::volume, 3),
                       q.volume_from.empty() ? "" : " (" + q.volume_from + ")");
  } else {
    const Spread90& rate = decay.rate;
    text = fmt::format(
        "The pressure rises by {} at {} vacuum. With --volume that is a leak, with --leak or --hole a volume.",
        rate.low > 0.0 ? fmt::format("{:.3g} Pa/s (nine in ten: {:.3g} to {:.3g})", rate.median, rate.low, rate.high)
                       : fmt::format("at most {:.3g} Pa/s", rate.high),
        units::show(hunt::leak_vacuum(q.site), "kPa", 0));
  }
  return text;
}

/// What else may have made the rise.
std::string doubts(const DecayQuestion& q) {
  const Decay& decay = q.decay;
  std::string text;
  if (decay.drift_shown)
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

}  // namespace

std::string decay_text(const DecayQuestion& q, const Look& look) {
  const Decay& decay = q.decay;
  std::string out = look.style.bold(cut("Decay of " + decay.log.file, 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(verdict(q)) + '\n';
  if (const std::string text = doubts(q); !text.empty()) out += paragraph(text) + '\n';
  out += drawn(decay, look) + '\n';
  out += paragraph(fmt::format(
      "Taken as shut off from {} on, its deepest vacuum. The {} fits best, to {} rms; {} of temperature drift allowed "
      "for.",
      time(decay.log.time[decay.first]),
      decay.inflow == Inflow::orifice ? "course of a hole, choked at first,"
                                      : "course of a laminar leak, a seal or a fitting,",
      vacuum(look, decay.rms), units::show(decay.drift, "K", 1)));
  if (q.volume) {
    const double flow = q.volume->value * decay.two_point_rate / (gas::R * q.site.temperature);
    out += paragraph(fmt::format(
        "By two points only, Q = V dp/t (the pressure change method of EN 13184): {} on the average of the "
        "log, at {}.",
        units::show_fitting(flow, units::Dimension::flow, 3), vacuum(look, q.site.pressure - decay.mean_pressure)));
  }
  if (decay.log.gaps > 0) out += paragraph(counted(decay.log.gaps, "row") + " with an empty cell left out.");
  for (const std::string& note : decay.log.notes) out += paragraph("Note: " + note + '.');
  out += paragraph(
      "Shut off by a check valve or a clamp on the hose, with the pump's drive locked out; what the vacuum holds may "
      "fall while it decays.");
  return out;
}

}  // namespace airtally::report
