#include "hunt/logs/logged.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "hunt/fit/shut_leak.hpp"
#include "hunt/logs/decay.hpp"
#include "hunt/logs/shut_off.hpp"
#include "hunt/readings/cut.hpp"
#include "line/topology.hpp"
#include "solve/answer.hpp"
#include "units/show.hpp"

namespace airtally::hunt {
namespace {

constexpr double volume_doubt = 0.1;  ///< two standard deviations of a volume added up from the file; common practice
constexpr double usual_drift = 0.5;   ///< two standard deviations of the temperature over a log [K]; common practice
constexpr double still = 0.01;        ///< share of the vacuum by which an end may move

units::Quantity volume_of(const line::Line& line, const line::Note& note, const Reading& reading) {
  if (note.volume) return *note.volume;
  const Cut left = cut(line, line::topology(line), reading.setting);
  const double volume = shut_volume(left.line, left.index[reading.at]);
  if (volume > 0.0) return units::Quantity::normal(volume, volume_doubt * volume);
  throw BadInput(note.where, "there is no volume on the tip's side of '" + line.elements[reading.at].name +
                                 "' in this setting; say with volume what was shut off.");
}

void refuse_open_tips(const line::Line& line, const line::Note& note, const Setting& setting) {
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  const std::vector<std::size_t> index = cut(line, line::topology(line), setting).index;
  for (std::size_t k = 0; k < nozzles.size(); ++k)
    if (index[nozzles[k]] != line::none && setting.cap != nozzles[k] && setting.tips[k] == solve::TipState::open)
      throw BadInput(note.tip_at.line ? note.tip_at : note.where,
                     "a decay is logged with nothing open: block the tip '" + line.elements[nozzles[k]].name +
                         "' and say so, tip = \"blocked\".");
}

}  // namespace

void take_decay(const line::Line& line, const line::Note& note, Reading& reading, std::vector<std::string>& remarks) {
  refuse_open_tips(line, note, reading.setting);
  const units::Quantity volume = volume_of(line, note, reading);
  const Decay decay = fit_decay(*note.log, line.site, note.drift > 0.0 ? note.drift : usual_drift);
  if (!decay.follows)
    throw BadInput(
        place_of(*note.log, decay.first),
        fmt::format(
            "from its deepest vacuum here on, the log is not how one volume, shut off, loses its "
            "vacuum (the nearest course is off by {} on the average, rms); cut it to what lies between shutting off "
            "and the next change.",
            units::show(decay.rms, "kPa", 1)));
  if (decay.least_only)
    throw BadInput(place_of(*note.log, decay.first),
                   "from its deepest vacuum here on, the log is down to nothing before a third row, which tells but a "
                   "least leak; log more rows a second, or read the gauge with the pump running instead.");
  const Spread90 leak = leak_of(decay, volume, line.site);
  reading.instrument = Instrument::inflow;
  reading.value = leak.median;
  // With an upper limit alone, that lies one-sided above what is likeliest.
  reading.noise = leak.low > 0.0 ? (leak.high - leak.low) / (2.0 * z90) : (leak.high - leak.median) / z90;
  // A kind of leak too unlikely for the range must not lie many deviations away from the reading.
  if (decay.rate.median > 0.0)
    reading.noise = std::max(reading.noise, leak.median * decay.deviation / decay.rate.median);
  if (!(decay.drift_alone > 0.0))
    remarks.push_back(fmt::format("{}: shows no loss of vacuum, and counts as a leak of {} at most.", note.log->file,
                                  units::show_fitting(leak.high, units::Dimension::flow, 2)));
  else if (decay.drift_shown)
    remarks.push_back(fmt::format("{}: a change of temperature by {:.1f} K would make the whole of its rise.",
                                  note.log->file, decay.drift_alone));
  if (!decay.leak_shown)
    remarks.push_back(fmt::format("{}: what comes out of soft tube or wet walls explains its rise without any leak.",
                                  note.log->file));
  else if (decay.outgassing > 0.0)
    remarks.push_back(fmt::format("{}: {:.0f} % of its rise came out of soft tube or wet walls and is not counted.",
                                  note.log->file, 100.0 * decay.outgassing));
}

double end_of_rise(const line::Log& log) {
  const double last = log.time.back(), tenth = 0.1 * (last - log.time.front());
  double sum[2] = {0.0, 0.0};
  int count[2] = {0, 0};
  for (std::size_t i = 0; i < log.time.size(); ++i) {
    const double before = last - log.time[i];
    if (before > 2.0 * tenth) continue;
    const int which = before <= tenth ? 1 : 0;
    sum[which] += log.vacuum[i];
    ++count[which];
  }
  const Position where{log.file, 0, 0};
  if (count[0] < 2 || count[1] < 2)
    throw BadInput(where, "has too few rows in its last fifth to tell whether the vacuum stands still there.");
  const double end = sum[1] / count[1], earlier = sum[0] / count[0];
  if (std::fabs(end - earlier) > still * std::fabs(end))
    throw BadInput(where, "still moves at its end, from " + units::show(earlier, "kPa", 1) + " to " +
                              units::show(end, "kPa", 1) + "; log until the vacuum stands still.");
  return end;
}

}  // namespace airtally::hunt
