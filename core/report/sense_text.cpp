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

/// A share of all builds that could be, by the bell curve: none were drawn, so it is never quite all or none of them.
std::string share(double part) {
  return part >= 1.0 - 1e-9 ? "all but at most 1 build in a billion"
         : part > 0.9995    ? "more than 99.95 % of builds"
         : part < 0.0005    ? "less than 0.05 % of builds"
                            : fmt::format("{:.1f} % of builds", 100.0 * part);
}

std::string after_touch(double time) { return no_less_than(time, units::Dimension::time) + " after touch"; }

/// Why no moment of the pick is safe, and what helps.
std::string not_in_the_pick(const line::Line& line, const Sense& sense, const Look& look) {
  const study::SensedPick& pick = *sense.pick;
  const std::string down = ", " + time(pick.place) + " after touch";
  std::string text = "In the pick ";
  if (!pick.held) {
    text += pick.held_last < sense.threshold
                ? "it feels no more than " + vacuum(look, pick.most) +
                      " before the part is put down, so good picks read as missed: "
                : "a held part reads as held for good only as it is put down" + down + ": ";
    text += line.cycle->valve_on.value >= line.cycle->touch.value ? "open the valve sooner"
                                                                  : "leave it more time on the part";
  } else if (pick.missed_last < sense.threshold) {
    text += "a missed part reads as missed for good only as it would be put down" + down;
  } else {
    text += "it still feels " + vacuum(look, pick.missed_last) +
            " of a missed part as that would be put down, so misses read as held";
  }
  if (pick.held)
    text += pick.stale ? ": the vacuum that stood before the closed valve takes that long to go, so open it sooner "
                         "before touch or put the sensor behind it"
                       : ": so short a pick does not draw the line down to what an open nozzle leaves at rest";
  return text + (pick.other_threshold ? ". A threshold of " + vacuum(look, *pick.other_threshold) +
                                            " would tell there, from " + after_touch(*pick.other_after) + " on."
                                      : ". No other threshold would tell there.");
}

/// From when on a decision is safe: in the pick where there is one, since it may be later there than at rest.
std::string when(const line::Line& line, const Sense& sense, const Look& look) {
  if (!sense.safe_after) return "There is no moment after touch from which a decision is safe.";
  if (sense.pick && !sense.pick->told()) return not_in_the_pick(line, sense, look);
  const std::string readings = ", of which " + time(sense.averaging_time) + " are taken by the readings themselves";
  if (!sense.pick) return "Safe to decide from " + after_touch(*sense.safe_after) + " on" + readings + '.';
  const study::SensedPick& pick = *sense.pick;
  const double told = *pick.told();
  std::string text = "Safe to decide from " + after_touch(told) + " on in the pick of the file's [cycle]" + readings;
  if (pick.lift < told) text += "; the head lifts before that, " + time(pick.lift) + " after touch";
  if (*pick.missed > *pick.held && *pick.missed > sense.averaging_time)
    text += ". A missed part takes longer than a held one, until the vacuum that stood there before has gone";
  if (std::abs(told - *sense.safe_after) >= std::max(5e-3, 0.1 * *sense.safe_after))
    text +=
        ". Were the line at rest before touch, it would be " + no_less_than(*sense.safe_after, units::Dimension::time);
  return text + '.';
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
  const auto& open = state(sense, "open").reading;
  const auto& part = state(sense, "part").reading;
  const Scale scale = vacuum_scale(look, std::max(open.vacuum, part.vacuum));
  std::string text =
      "The sensor at " + the(line.elements.at(sense.element)) + (sense.works() ? " tells" : " does not tell") +
      " a held part from a missed one" +
      (sense.tells && !sense.works() ? " in the pick of the file's [cycle], though it would at rest: " : ": ");
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
  return text + ' ' + when(line, sense, look);
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
      "states get through in {}.",
      volts(sense.chain.fixed_error), share(sense.share_alive));
  if (line.sensor->amplifier.kind == line::FrontEnd::bare) return text;
  text += sense.best_gain > 0.0
              ? fmt::format(" The gain is {}; {} would use the ADC best.",
                            gain_words(line.sensor->amplifier.gain.value), gain_words(largest_gain(sense.best_gain)))
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
  if (sense.neighbours.spread > 0.0) table.add({"the other parts' gaps", "", three_digits(sense.neighbours.spread)});
  return table.text(look.style);
}

}  // namespace

std::string sense_caution(const Sense& sense, const Look& look) {
  const auto& half = state(sense, "half covered").reading;
  if (!(sense.threshold > 0.0)) return "Beware: no reading of this sensor says anything of the part.";
  // Within two deviations of the threshold, and so within the count that it lies in, either may come out.
  const bool either = std::abs(half.read - sense.threshold) <= 2.0 * state(sense, "half covered").deviation;
  std::string text =
      fmt::format("Beware: a nozzle half covered by a part that lies askew reads {}, {}.", vacuum(look, half.read),
                  either                        ? "so near the threshold that noise has it held or missed"
                  : half.read > sense.threshold ? "as held"
                                                : "as missed");
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
      "Counts in the table of front ends are between open and part, yours at its own gain and each other at the one "
      "that "
      "suits it; those are common practice. separation: deviations from either state to the threshold of equal error.",
      odds(sense.computed.false_above), odds(sense.computed.false_below));
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : sense.notes) out += paragraph("Note: " + note + ".", 80, 2);
  return out;
}

}  // namespace airtally::report
