// What the answers about a sensor behind an amplifier and about a switch say alike.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/safe_side.hpp"
#include "report/sense_private.hpp"
#include "report/sense_text.hpp"
#include "report/table.hpp"
#include "report/verdicts.hpp"
#include "report/words.hpp"

namespace airtally::report {

using study::Sense;

std::string three_digits(double x) {
  const double size = std::abs(x);
  return fmt::format("{:.{}f}", x, size >= 100.0 || size <= 0.0 ? 0 : size >= 10.0 ? 1 : 2);
}

const study::SensedState& sensed_state(const Sense& sense, std::string_view name) {
  return *std::find_if(sense.states.begin(), sense.states.end(), [&](const auto& s) { return s.name == name; });
}

std::string tells_or_not(const line::Line& line, const Sense& sense, std::string_view what) {
  return fmt::format(
      "The {} at {} {} a held part from a missed one{}", what, the(line.elements.at(sense.element)),
      sense.works() ? "tells" : "does not tell",
      sense.tells && !sense.works() ? " in the pick of the file's [cycle], though it would at rest" : "");
}

std::string sense_nozzle(const line::Line& line, const Sense& sense) {
  const std::size_t nozzles = line::all_of(line, line::Kind::nozzle).size();
  if (nozzles < 2) return "";
  std::string text = fmt::format("Judged is {}{}; {} {} meanwhile.", the(line.elements.at(sense.nozzle)),
                                 sense.hardest ? fmt::format(", the hardest to tell of {} nozzles", nozzles) : "",
                                 nozzles == 2 ? "the other nozzle" : fmt::format("the {} others", nozzles - 1),
                                 nozzles == 2 ? "holds its part" : "hold theirs");
  if (sense.felt > 1)
    text += fmt::format(" The air of {} passes by {}: it can tell that a part is missing there, not which.",
                        counted(sense.felt, "nozzle"), sense.points ? "this switch" : "this sensor");
  return text;
}

namespace {

std::string after_touch(double time) { return no_less_than(time, units::Dimension::time) + " after touch"; }

}  // namespace

std::string not_in_the_pick(const line::Line& line, const Sense& sense, const study::SensedPick& pick, double on,
                            double off, const Look& look) {
  const std::string down = ", " + time(pick.place) + " after touch";
  std::string text = "In the pick ";
  if (!pick.held && pick.most > on && pick.held_last < 0.95 * pick.most) {
    text += "a held part's vacuum has fallen to " + vacuum(look, pick.held_last) + " as it is put down" + down +
            ", so good picks read as missed before that: let it go later";
  } else if (!pick.held) {
    text += pick.held_last < on ? "it feels no more than " + vacuum(look, pick.most) +
                                      " before the part is put down, so good picks read as missed: "
                                : "a held part reads as held for good only as it is put down" + down + ": ";
    text += line.cycle->valve_on.value >= line.cycle->touch.value ? "open the valve sooner"
                                                                  : "leave it more time on the part";
  } else if (pick.missed_last < off) {
    text += "a missed part reads as missed for good only as it would be put down" + down;
  } else {
    text += "it still feels " + vacuum(look, pick.missed_last) +
            " of a missed part as that would be put down, so misses read as held";
  }
  if (pick.held)
    text += pick.stale ? ": the vacuum that stood before the closed valve takes that long to go, so open it sooner "
                         "before touch or put the sensor behind it"
                       : ": so short a pick does not draw the line down to what an open nozzle leaves at rest";
  const std::string what = sense.points ? "set point" : "threshold";
  if (!pick.other_threshold) return text + ". No other " + what + " would tell there.";
  return text + ". A " + what + " of " + vacuum(look, *pick.other_threshold) +
         (sense.points ? ", with the same hysteresis," : "") + " would tell there, from " +
         after_touch(*pick.other_after) + " on.";
}

std::string sense_when(const line::Line& line, const Sense& sense, const Look& look) {
  if (!sense.safe_after) return "There is no moment after touch from which a decision is safe.";
  if (sense.pick && !sense.pick->told())
    return not_in_the_pick(line, sense, *sense.pick, sense.threshold,
                           sense.points ? sense.points->off : sense.threshold, look);
  const std::string part = ", of which " + time(sense.averaging_time);
  const std::string readings = !sense.points                ? part + " are taken by the readings themselves"
                               : sense.averaging_time > 0.0 ? part + " are the switch's response"
                                                            : "";
  if (!sense.pick) return "Safe to decide from " + after_touch(*sense.safe_after) + " on" + readings + '.';
  const study::SensedPick& pick = *sense.pick;
  const double told = *pick.told();
  std::string text = "Safe to decide from " + after_touch(told) + " on in the pick of the file's [cycle]" + readings;
  const std::string head =
      line::all_of(line, line::Kind::nozzle).size() > 1 ? the(line.elements.at(sense.nozzle)) + "'s head" : "the head";
  if (!pick.lift)
    text += "; " + head + " never has the vacuum to lift";
  else if (*pick.lift < told)
    text += "; " + head + " lifts before that, " +
            (*pick.lift > 0.0 ? time(*pick.lift) + " after touch" : "as it meets the part");
  if (*pick.missed > *pick.held && *pick.missed > sense.averaging_time)
    text += ". A missed part takes longer than a held one, until the vacuum that stood there before has gone";
  if (std::abs(told - *sense.safe_after) >= std::max(5e-3, 0.1 * *sense.safe_after))
    text +=
        ". Were the line at rest before touch, it would be " + no_less_than(*sense.safe_after, units::Dimension::time);
  return text + '.';
}

std::string sense_noises(const Sense& sense, const Look& look) {
  // A switch decides by what it feels, without averaging.
  const bool averages = !sense.points;
  std::vector<Column> columns{{"noise", "", true}, {averages ? "one reading" : "rms", "Pa"}};
  if (averages) columns.push_back({"decision", "Pa"});
  Table table(columns);
  const auto add = [&](const std::string& what, const std::string& one, double decided) {
    table.add(averages ? std::vector{what, one, three_digits(decided)} : std::vector{what, three_digits(decided)});
  };
  for (const study::Noise& noise : sense.noises) add(noise.what, three_digits(noise.one), noise.decided);
  if (!sense.noises.empty()) {
    table.rule();
    add("together", "", sense.noise);
  }
  if (sense.noises.empty() && !(sense.gap_spread > 0.0) && !(sense.neighbours.spread > 0.0)) return "";
  add("the part's gap", "", sense.gap_spread);
  if (sense.neighbours.spread > 0.0) add("the other parts' gaps", "", sense.neighbours.spread);
  return table.text(look.style);
}

std::string sense_caution(const Sense& sense, const Look& look) {
  const auto& half = sensed_state(sense, "half covered").reading;
  if (!(sense.threshold > 0.0)) return "Beware: no reading of this sensor says anything of the part.";
  // Within two deviations of the threshold, and so within the count that it lies in, either may come out.
  const double near = 2.0 * sensed_state(sense, "half covered").deviation;
  const double off = sense.points ? sense.points->off : sense.threshold;
  const bool either = std::abs(half.read - sense.threshold) <= near || std::abs(half.read - off) <= near;
  std::string text =
      fmt::format("Beware: a nozzle half covered by a part that lies askew reads {}, {}.", vacuum(look, half.read),
                  either && sense.points            ? "so near a set point that noise has it held or missed"
                  : either                          ? "so near the threshold that noise has it held or missed"
                  : half.read > sense.threshold     ? "as held"
                  : sense.points && half.read > off ? "as held where the switch was on before, else as missed"
                                                    : "as missed");
  if (sense.clogged_looks_held && *sense.clogged_looks_held <= 0.0) {
    text += " An empty, clean nozzle reads as held already.";
  } else if (sense.clogged_looks_held) {
    const double share = *sense.clogged_looks_held;
    text += fmt::format(
        " An empty nozzle that is clogged by {} of its flow reads as held{}: pressure alone can't tell "
        "the two apart, so look at a reading without a part now and then.",
        share >= 0.99 ? "more than 99 %" : fmt::format("{:.0f} %", 100.0 * share),
        sense.points ? " once the switch is on" : "");
  }
  return text;
}

std::string sense_places(const line::Line& line, const Sense& sense, const Look& look) {
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

std::string odds(double probability) {
  if (probability < 1e-9) return "never in a billion";
  const auto times = [](double x) { return x >= 9.95 ? fmt::format("{:.0f}", x) : fmt::format("{:.1f}", x); };
  if (probability < 1e-6) return times(1e9 * probability) + " times in a billion";
  if (probability < 1e-3) return times(1e6 * probability) + " times in a million";
  if (probability >= 0.995) return "more than 99 % of the time";
  return fmt::format("{:.2g} % of the time", 100.0 * probability);
}

}  // namespace airtally::report
