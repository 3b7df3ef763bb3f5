#include "report/sense_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/said_in.hpp"
#include "report/sense_private.hpp"
#include "report/table.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::Sense;

std::string volts(double v) { return units::show_fitting(v, units::Dimension::voltage, 3); }

std::string counts(const study::ChainReading& reading) { return fmt::format("{:.0f}", reading.counts); }

/// A share of all builds that could be, by the bell curve: none were drawn, so it is never quite all or none of them.
std::string share(double part) {
  return part >= 1.0 - 1e-9 ? "all but at most 1 build in a billion"
         : part > 0.9995    ? "more than 99.95 % of builds"
         : part < 0.0005    ? "less than 0.05 % of builds"
                            : fmt::format("{:.1f} % of builds", 100.0 * part);
}

/// What ends the sentence of error rates: where they are good enough only for a threshold that was found on the very
/// build that it is used on, that and what the same threshold does elsewhere.
std::string on_any_build(const line::Line& line, const Sense& sense) {
  const auto most = [](const laws::ErrorRates& rates) { return std::max(rates.false_above, rates.false_below); };
  const double allowed = line.sensor->allowed.value;
  if (most(sense.taught) > allowed || most(sense.computed) <= allowed) return ".";
  return fmt::format(
      ", if that threshold was found on this very build. Taken from this page for any build it is wrong {} without a "
      "part and {} with one: find it on each build from what that reads with a part and without.",
      odds(sense.computed.false_above), odds(sense.computed.false_below));
}

}  // namespace

std::string sense_verdict(const line::Line& line, const Sense& sense, const Look& look) {
  if (sense.points) return switch_verdict(line, sense, look);
  const auto& open = sensed_state(sense, "open").reading;
  const auto& part = sensed_state(sense, "part").reading;
  const Scale scale = vacuum_scale(look, std::max(open.vacuum, part.vacuum));
  std::string text = tells_or_not(line, sense, "sensor") + ": ";
  if (!sense.why_not_closed.empty()) return text + "none is held, since " + clean(sense.why_not_closed) + ".";
  text += "it feels " + scale.text(part.vacuum) + " with the part on and " + scale.text(open.vacuum) + " without";
  if (part.clipped || open.clipped)
    text += part.read == open.read ? ", but both come out as " + volts(part.output) + ", count " + counts(part)
                                   : ", which come out as " + volts(part.output) + " and " + volts(open.output);
  text += '.';
  if (sense.threshold > 0.0)
    text += fmt::format(
        " {} held from {} on ({} at the ADC, count {}): a missed part then passes for held {}, a held one for missed "
        "{}{}",
        sense.works() ? "Call it"
        : sense.tells ? "At rest call it"
                      : "At best call it",
        scale.text(sense.threshold), volts(sense.at_threshold.output), counts(sense.at_threshold),
        odds(sense.taught.false_above), odds(sense.taught.false_below), on_any_build(line, sense));
  // The build as it is stated tells, and whoever builds it gets another.
  if (sense.tells && sense.share_told && *sense.share_told < study::enough_builds)
    text +=
        fmt::format(" But from build to build its output is off, and it tells in {} only.", share(*sense.share_told));
  return text + ' ' + sense_when(line, sense, look);
}

namespace {

std::string states(const Sense& sense, const Look& look) {
  double most = 0.0;
  for (const auto& s : sense.states) most = std::max(most, s.reading.vacuum);
  const Scale scale = vacuum_scale(look, most);
  Table table({{"tip", "", true},
               {"vacuum", scale.unit()},
               {"bridge", "mV"},
               {"wanted", "V"},
               {"gets", "V"},
               {"counts", ""},
               {"noise", "Pa"}});
  for (const auto& s : sense.states)
    table.add({s.name, scale.number(s.reading.vacuum), fmt::format("{:.2f}", 1e3 * s.reading.bridge),
               fmt::format("{:.3f}", s.reading.wanted), fmt::format("{:.3f}", s.reading.output),
               fmt::format("{:.0f}", s.reading.counts), three_digits(s.deviation)},
              s.reading.clipped);
  return table.text(look.style);
}

/// Which of the states can't be told from each other, a sentence for each limit that holds several.
std::string alike(const Sense& sense) {
  std::string text;
  for (std::size_t k = 0; k < sense.states.size(); ++k) {
    const study::SensedState& first = sense.states[k];
    std::vector<std::string> names{'"' + first.name + '"'};
    bool told = first.alike.empty();
    for (const std::string& other : first.alike) {
      names.push_back('"' + other + '"');
      for (std::size_t before = 0; before < k; ++before) told = told || sense.states[before].name == other;
    }
    if (!told)
      text += fmt::format("No reading tells {} from each other: all come out as {}, count {}. ", listed(names),
                          volts(first.reading.output), counts(first.reading));
  }
  return text;
}

/// The largest gain that works, in three digits, and no larger for being rounded.
double largest_gain(double gain) {
  const double step = std::pow(10.0, std::floor(std::log10(gain)) - 2.0);
  return step * std::floor(gain / step * (1.0 + 1e-9));
}

std::string gain_words(double factor) {
  return factor >= 1000.0 ? fmt::format("{:.0f}", factor) : fmt::format("{:.3g}", factor);
}

std::string chain_words(const line::Line& line, const Sense& sense) {
  std::string text;
  const auto clipped =
      std::count_if(sense.states.begin(), sense.states.end(), [](const auto& s) { return s.reading.clipped; });
  const line::Sensor& s = line.sensor.value();
  const double legs = 0.5 * s.excitation.value;
  if (s.amplifier.kind == line::FrontEnd::bare && legs >= s.adc.reference.value)
    text = fmt::format(
        "Nothing gets through: both legs of the bare bridge stand at {}, half of what feeds it, and the ADC reads no "
        "more than its reference of {}. Take a reference above that, feed the bridge less, or put an amplifier "
        "between. ",
        volts(legs), volts(s.adc.reference.value));
  else if (clipped > 0)
    text = fmt::format("In {} of these {} states the voltage wanted lies beyond what gets through ({} to {}). ",
                       clipped, sense.states.size(), volts(sense.chain.low), volts(sense.chain.high)) +
           alike(sense);
  text += fmt::format(
      "From build to build the voltage is off by {} (one standard deviation: zero, offset, resistors): all "
      "states get through in {}{}.",
      volts(sense.chain.fixed_error), share(sense.share_alive),
      sense.share_told ? ", and held is told from missed in " + share(*sense.share_told) : "");
  if (line.sensor->amplifier.kind == line::FrontEnd::bare) return text;
  text += sense.best_gain > 0.0
              ? fmt::format(" The gain is {}; {} would use the ADC best.",
                            gain_words(line.sensor->amplifier.gain.value), gain_words(largest_gain(sense.best_gain)))
              : " No gain lets 99 % of builds work: change the bias, the rails or the tolerances.";
  return text;
}

std::string front_ends(const Sense& sense, const Look& look) {
  Table table({{"front end", "", true},
               {"gain", ""},
               {"counts", ""},
               {"noise", "Pa"},
               {"wrong", "", true},
               {"works in", "builds"}});
  for (const study::FrontEndOutcome& o : sense.front_ends)
    table.add({std::string(line::word(o.kind)) + (o.own ? " (yours)" : ""), three_digits(o.gain),
               fmt::format("{:.0f}", o.counts), three_digits(o.noise), odds(o.error_rate),
               fmt::format("{:.1f} %", 100.0 * o.share_alive)},
              o.own);
  return table.text(look.style);
}

}  // namespace

std::string sense_text(const line::Line& line, const Sense& sense, const Look& look) {
  if (sense.points) return switch_text(line, sense, look);
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(sense_verdict(line, sense, look)) + '\n';
  const std::string nozzle = sense_nozzle(line, sense), noises = sense_noises(sense, look);
  if (!nozzle.empty()) out += paragraph(nozzle) + '\n';
  out += states(sense, look) + '\n' + paragraph(chain_words(line, sense)) + '\n';
  if (!noises.empty()) out += noises + '\n';
  out += paragraph(sense_caution(sense, look)) + '\n' + front_ends(sense, look) + '\n' +
         sense_places(line, sense, look) + '\n';
  const std::string how = fmt::format(
      "Error rates hold for a threshold found on this very build; taken from this page for any build they are {} and "
      "{}. "
      "Counts in the table of front ends are between open and part, yours at its own gain and each other at the one "
      "that "
      "suits it; those are common practice. separation: deviations from either state to the threshold of equal error.",
      odds(sense.computed.false_above), odds(sense.computed.false_below));
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : sense.notes) out += paragraph("Note: " + said_in(look, note) + ".", 80, 2);
  return out;
}

}  // namespace airtally::report
