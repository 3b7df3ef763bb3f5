#include <fmt/format.h>

#include <algorithm>

#include "report/safe_side.hpp"
#include "report/said_in.hpp"
#include "report/sense_private.hpp"
#include "report/sense_text.hpp"
#include "report/table.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {

using study::Sense;

std::string switch_verdict(const line::Line& line, const Sense& sense, const Look& look) {
  const study::SwitchPoints& points = sense.points.value();
  const double open = sensed_state(sense, "open").reading.vacuum, part = sensed_state(sense, "part").reading.vacuum;
  std::string text = tells_or_not(line, sense, "switch") + ": ";
  if (!sense.why_not_closed.empty()) return text + "none is held, since " + clean(sense.why_not_closed) + ".";
  const Scale scale = vacuum_scale(look, std::max({open, part, points.on}));
  text += fmt::format(
      "it feels {} with the part on and {} without, and switches on at {} and off at {}: a missed part then passes for "
      "held {}, a held one for missed {}.",
      scale.text(part), scale.text(open), scale.text(points.on), scale.text(points.off),
      odds(sense.computed.false_above), odds(sense.computed.false_below));
  if (part < points.on)
    text += " Set so high, a held part does not switch it on.";
  else if (open >= points.on)
    text += " Set so low, it is on with nothing on the tip.";
  else if (open > points.off)
    text += " Once it is on, nothing on the tip does not switch it off again.";
  return text + ' ' + sense_when(line, sense, look);
}

std::string sense_advice(const line::Line& line, const Sense& sense, const Look& look) {
  if (!sense.points || !sense.why_not_closed.empty()) return "";
  const study::SwitchPoints& points = *sense.points;
  const double own = points.on - points.off;
  if (!points.best_on || !points.most_hysteresis)
    return "No set point of such a switch tells, be its hysteresis as small as it may.";
  const Scale scale = vacuum_scale(look, *points.best_on);
  // Rounded so that it switches off no lower than it has to.
  const std::string where = no_less_than(*points.best_on, units::Dimension::pressure, scale) + ' ' + scale.unit();
  const std::string most =
      no_more_than(*points.most_hysteresis, units::Dimension::pressure, std::string(look.vacuum->symbol));
  std::string text = fmt::format("Set it on at {} with a hysteresis of at most {}", where, most);
  text += !sense.tells    ? ", and with the line at rest it tells."
          : sense.works() ? ": it errs least there."
                          : ": with the line at rest it errs least there.";
  if (own > *points.most_hysteresis)
    text += " Its own of " + vacuum(look, own) + " is too wide" +
            (own > points.on_highest - points.off_lowest ? ", wherever it is set." : " there.");
  if (!points.best_pick) return text;
  // Else it would be heard of only once it is set so.
  return text + (points.best_works() ? " In the pick of the file's [cycle] it tells then, too."
                                     : " Yet in the pick of the file's [cycle] it does not tell even then. " +
                                           not_in_the_pick(line, sense, *points.best_pick, *points.best_on,
                                                           *points.best_on - points.best_hysteresis(), look));
}

namespace {

std::string switch_states(const Sense& sense, const Look& look) {
  double most = 0.0;
  for (const auto& s : sense.states) most = std::max(most, s.reading.vacuum);
  const Scale scale = vacuum_scale(look, most);
  Table table({{"tip", "", true}, {"vacuum", scale.unit()}, {"noise", "Pa"}, {"switch", "", true}});
  for (const auto& s : sense.states)
    table.add({s.name, scale.number(s.reading.vacuum), three_digits(s.deviation),
               std::string(study::word(s.says.value_or(study::SwitchSays::off)))});
  return table.text(look.style);
}

}  // namespace

std::string switch_text(const line::Line& line, const Sense& sense, const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(switch_verdict(line, sense, look)) + '\n';
  for (const std::string& more : {sense_nozzle(line, sense), sense_advice(line, sense, look)})
    if (!more.empty()) out += paragraph(more) + '\n';
  out += switch_states(sense, look) + '\n';
  const std::string noises = sense_noises(sense, look);
  if (!noises.empty()) out += noises + '\n';
  out += paragraph(sense_caution(sense, look)) + '\n' + sense_places(line, sense, look) + '\n';
  const std::string how = fmt::format(
      "Error rates are those of any such switch, whose set points lie off what its display says by its accuracy; were "
      "they exactly there, they would be {} and {}. A missed part has to stay below the point where it switches off, "
      "since it may have been on before. separation: deviations from either state to its set point, with the switch "
      "set best at that place.",
      odds(sense.taught.false_above), odds(sense.taught.false_below));
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : sense.notes) out += paragraph("Note: " + said_in(look, note) + ".", 80, 2);
  return out;
}

}  // namespace airtally::report
