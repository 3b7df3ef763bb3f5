#include "report/sense_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/safe_side.hpp"
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

/// Digits that suit a number of any size in a table.
std::string three_digits(double x) {
  const double size = std::abs(x);
  return fmt::format("{:.{}f}", x, size >= 100.0 || size <= 0.0 ? 0 : size >= 10.0 ? 1 : 2);
}

const study::SensedState& state(const Sense& sense, std::string_view name) {
  return *std::find_if(sense.states.begin(), sense.states.end(), [&](const auto& s) { return s.name == name; });
}

std::string share(double part) {
  return part > 0.9995 ? "all but 1 in 2000" : part < 0.0005 ? "hardly any" : fmt::format("{:.1f} %", 100.0 * part);
}

/// What the [cycle] makes of it, where that differs from a nozzle that has drawn air until all was at rest.
std::string in_the_pick(const Sense& sense, const Look& look) {
  if (!sense.pick || !sense.safe_after) return "";
  const study::SensedPick& pick = *sense.pick;
  const std::string rest = " That is with the line at rest before touch; in the [cycle] of the file ";
  if (!pick.held)
    return rest + "the sensor feels no more than " + vacuum(look, pick.most) +
           " before the part is put down, so good picks read as missed: open the valve sooner before touch, or take a "
           "lower threshold with care.";
  if (!pick.missed)
    return rest +
           "the vacuum that stood behind the closed valve has not gone by then, so misses read as held: open "
           "the valve sooner before touch, or put the sensor behind it.";
  const double told = *pick.told();
  if (std::abs(told - *sense.safe_after) < std::max(5e-3, 0.1 * *sense.safe_after)) return "";
  return rest + "it is from " + no_less_than(told, units::Dimension::time) + " after touch on" +
         (*pick.missed > *pick.held ? ", once the vacuum that stood behind the closed valve has gone" : "") +
         (pick.lift < told ? "; the head lifts before that, " + time(pick.lift) + " after touch." : ".");
}

std::string when(const Sense& sense) {
  if (!sense.safe_after) return "There is no moment after touch from which a decision is safe.";
  return "Safe to decide from " + no_less_than(*sense.safe_after, units::Dimension::time) +
         " after touch on, of which " + time(sense.averaging_time) + " are taken by the readings themselves.";
}

}  // namespace

std::string sense_verdict(const line::Line& line, const Sense& sense, const Look& look) {
  const auto& open = state(sense, "open").reading;
  const auto& part = state(sense, "part").reading;
  const Scale scale = vacuum_scale(look, std::max(open.vacuum, part.vacuum));
  std::string text = "The sensor at " + the(line.elements.at(sense.element)) +
                     (sense.tells ? " tells" : " does not tell") + " a held part from a missed one: ";
  if (!sense.why_not_closed.empty()) return text + "none is held, since " + clean(sense.why_not_closed) + ".";
  text += "it feels " + scale.text(part.vacuum) + " with the part on and " + scale.text(open.vacuum) + " without";
  if (part.clipped || open.clipped)
    text += part.read == open.read ? ", but both come out as " + volts(part.output) + ", count " + counts(part)
                                   : ", which come out as " + volts(part.output) + " and " + volts(open.output);
  text += '.';
  if (sense.threshold > 0.0)
    text += fmt::format(
        " {} held from {} on ({} at the ADC, count {}): a missed part then passes for held {}, a held one for missed "
        "{}.",
        sense.tells ? "Call it" : "At best call it", scale.text(sense.threshold), volts(sense.at_threshold.output),
        counts(sense.at_threshold), odds(sense.taught.false_above), odds(sense.taught.false_below));
  return text + ' ' + when(sense) + in_the_pick(sense, look);
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
      "states get through in {} of builds.",
      volts(sense.chain.fixed_error), share(sense.share_alive));
  if (line.sensor->amplifier.kind == line::FrontEnd::bare) return text;
  text += sense.best_gain > 0.0 ? fmt::format(" The gain is {:.3g}; {:.3g} would use the ADC best.",
                                              line.sensor->amplifier.gain.value, largest_gain(sense.best_gain))
                                : " No gain lets 99 % of builds work: change the bias, the rails or the tolerances.";
  return text;
}

std::string noises(const Sense& sense, const Look& look) {
  Table table({{"noise", "", true}, {"one reading", "Pa"}, {"decision", "Pa"}});
  for (const study::Noise& noise : sense.noises)
    table.add({noise.what, three_digits(noise.one), three_digits(noise.decided)});
  table.rule();
  table.add({"together", "", three_digits(sense.noise)});
  table.add({"the part's gap", "", three_digits(sense.gap_spread)});
  return table.text(look.style);
}

}  // namespace

std::string sense_caution(const Sense& sense, const Look& look) {
  const auto& half = state(sense, "half covered").reading;
  if (!(sense.threshold > 0.0)) return "Beware: no reading of this sensor says anything of the part.";
  std::string text = fmt::format("Beware: a nozzle half covered by a part that lies askew reads {}, as {}.",
                                 vacuum(look, half.read), half.read > sense.threshold ? "held" : "missed");
  if (sense.clogged_looks_held && *sense.clogged_looks_held <= 0.0) {
    text += " An empty, clean nozzle reads as held already.";
  } else if (sense.clogged_looks_held) {
    text += fmt::format(
        " An empty nozzle that is clogged by {:.0f} % of its flow reads as held: pressure alone can't tell "
        "the two apart, so look at a reading without a part now and then.",
        100.0 * *sense.clogged_looks_held);
  }
  return text;
}

namespace {

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

std::string places(const line::Line& line, const Sense& sense, const Look& look) {
  double most = 0.0;
  for (const auto& place : sense.places) most = std::max({most, place.vacuum, std::abs(place.signal)});
  const Scale scale = vacuum_scale(look, most);
  Table table({{"sensor behind", "", true},
               {"with part", scale.unit()},
               {"signal", scale.unit()},
               {"scatter", "Pa"},
               {"separation", "deviations"}});
  for (const auto& place : sense.places)
    table.add({name(line, place.element), scale.number(place.vacuum), scale.number(place.signal),
               three_digits(place.noise), three_digits(place.separation)},
              place.element == sense.element);
  return table.text(look.style);
}

}  // namespace

std::string odds(double probability) {
  if (probability < 1e-9) return "never in a billion";
  const auto times = [](double x) { return x >= 9.95 ? fmt::format("{:.0f}", x) : fmt::format("{:.1f}", x); };
  if (probability < 1e-6) return times(1e9 * probability) + " times in a billion";
  if (probability < 1e-3) return times(1e6 * probability) + " times in a million";
  return fmt::format("{:.2g} % of the time", 100.0 * probability);
}

std::string sense_text(const line::Line& line, const Sense& sense, const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(sense_verdict(line, sense, look)) + '\n' + states(sense, look) + '\n' +
         paragraph(chain_words(line, sense)) + '\n' + noises(sense, look) + '\n';
  out +=
      paragraph(sense_caution(sense, look)) + '\n' + front_ends(sense, look) + '\n' + places(line, sense, look) + '\n';
  const std::string how = fmt::format(
      "Error rates hold for a threshold found on this very build; taken from this page for any build they are {} and "
      "{}. "
      "Counts in the table of front ends are between open and part, at the gain that suits each; those that are not "
      "yours "
      "are common practice. separation: deviations from either state to the threshold of equal error.",
      odds(sense.computed.false_above), odds(sense.computed.false_below));
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : sense.notes) out += paragraph("Note: " + note + ".", 80, 2);
  return out;
}

}  // namespace airtally::report
