#include "report/hold_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "line/shut_valve.hpp"
#include "report/outage_text.hpp"
#include "report/safe_side.hpp"
#include "report/said_in.hpp"
#include "report/shut_words.hpp"
#include "report/table.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "study/rim.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::Hold;
using study::Loss;
using study::TipHold;
using units::Dimension;

/// What happens to the part, as in "it would slide".
std::string fate(Loss loss) {
  switch (loss) {
    case Loss::lift:
      return "drop";
    case Loss::slide:
      return "slide on the rim";
    case Loss::tilt:
      return "tip over the edge of the rim";
  }
  return "drop";
}

std::string gap_phrase(const TipHold& tip) {
  if (tip.least.gap <= 0.0) return "";
  const std::string gap = units::show_fitting(tip.least.gap, Dimension::length, 2);
  return tip.least.gap > tip.most.gap ? " at the widest gap of " + gap : " at its gap of " + gap;
}

/// Which tip is judged: the weakest, or all of them where they are alike. Before it the tips that have no part on.
std::string subject_of(const line::Line& line, const Hold& hold) {
  constexpr double alike = 1.0;  // [Pa]
  const TipHold& tip = hold.tips.at(hold.weakest);
  std::vector<std::string> bare;
  std::size_t judged = 0, as_weak = 0;
  for (const TipHold& each : hold.tips) {
    if (!each.judged) bare.push_back(the(line.elements.at(each.element)) + ' ' + std::string(word(each.state)));
    judged += each.judged;
    as_weak += each.judged && each.margin <= tip.margin + alike;
  }
  const line::Element& nozzle = line.elements.at(tip.element);
  const std::string with = bare.empty() ? "" : "With " + listed(bare) + ", ";
  const std::string name = bare.empty() ? The(nozzle) : the(nozzle);
  if (judged == 1) return with + name;
  return with + name +
         (as_weak < judged ? ", the weakest of " + std::to_string(judged) + ","
          : judged == 2    ? ", like the other,"
                           : ", like all " + std::to_string(judged) + ",");
}

}  // namespace

std::string hold_verdict(const line::Line& line, const Hold& hold, const Look& look) {
  const TipHold& tip = hold.tips.at(hold.weakest);
  const Scale scale = vacuum_scale(look, std::max(tip.needed_vacuum, tip.least.vacuum));
  const std::string subject = subject_of(line, hold);
  if (tip.seat != line::Seat::closed) return subject + " does not hold the part: " + clean(tip.why_not_closed) + ".";
  // What only a rim that seals holds is not held whatever happens.
  const bool by_rim = tip.holds() && tip.least.vacuum * study::creeping_share(line, tip.element) < tip.needed_vacuum;
  std::string text = subject + (tip.holds() ? " holds the part" : " does not hold the part") +
                     (by_rim ? ", but only if its rim seals at the outer edge" : "") + ": its moves need " +
                     scale.text(tip.needed_vacuum) + " and the tip has " + scale.text(tip.least.vacuum) +
                     gap_phrase(tip) + ", " + scale.text(std::abs(tip.margin)) +
                     (tip.holds() ? " to spare." : " too little.");
  if (!tip.holds() && tip.least.vacuum <= no_vacuum_to_speak_of)
    if (const auto shut = line::shut_valve(line, line::topology(line), tip.element))
      return text + ' ' + stands_shut(line.elements[*shut]) + ". " + open_it(line.elements[*shut]);
  if (tip.needed_vacuum >= line.site.pressure) return text + no_vacuum(scale.text(line.site.pressure));
  return text + (tip.holds() ? " Asked for more, it would first " : " It would ") + fate(tip.limit) + ".";
}

namespace {

/// The name of one row for all.
std::string all_judged(const Hold& hold) {
  const auto judged = std::count_if(hold.tips.begin(), hold.tips.end(), [](const TipHold& tip) { return tip.judged; });
  return all_tips(static_cast<std::size_t>(judged)) +
         (static_cast<std::size_t>(judged) < hold.tips.size() ? " with a part" : "");
}

std::string need(const Scale& scale, double pa) { return pa > 0.0 ? scale.number(pa) : "-"; }

std::string budget(const line::Line& line, const Hold& hold, const Look& look) {
  double most = 0.0;
  for (const TipHold& tip : hold.tips) most = std::max({most, tip.needed_vacuum, tip.most.vacuum});
  const Scale scale = vacuum_scale(look, most);
  const std::string unit = scale.unit();
  Table table({{"vacuum", "", true},
               {"not drop", unit},
               {"not slide", unit},
               {"not tilt", unit},
               {"has", unit},
               {"at least", unit},
               {"to spare", unit}});
  for (const TipHold& tip : hold.tips) {
    if (!tip.judged) continue;
    table.add(
        {name(line, tip.element), need(scale, tip.needed[0]), need(scale, tip.needed[1]), need(scale, tip.needed[2]),
         scale.number(tip.nominal.vacuum), scale.number(tip.least.vacuum), scale.number(tip.margin)},
        !tip.holds());
  }
  table.merge_alike(all_judged(hold));
  return table.text(look.style);
}

std::string acceleration(const std::optional<double>& value) {
  if (!value) return "none";
  const std::string text = no_more_than(*value, Dimension::acceleration, "m/s2");
  return text.substr(0, text.find(' '));
}

std::string limits(const line::Line& line, const Hold& hold, const Look& look) {
  Table table({{"still holds", "", true}, {"heaviest part"}, {"upwards", "m/s2"}, {"sideways", "m/s2"}});
  for (const TipHold& tip : hold.tips) {
    if (!tip.judged) continue;
    table.add({name(line, tip.element),
               tip.least.vacuum > no_vacuum_to_speak_of && tip.heaviest > 0.0
                   ? no_more_than(tip.heaviest, Dimension::mass)
                   : "none",
               acceleration(tip.most_lift), acceleration(tip.most_travel)});
  }
  table.merge_alike(all_judged(hold));
  return table.text(look.style);
}

/// The options that leave the same tips without a part.
std::string tips_asked(const line::Line& line, const Hold& hold) {
  std::string text;
  for (const TipHold& tip : hold.tips)
    if (!tip.judged) text += " --tip " + typed(line.elements.at(tip.element).name + '=' + std::string(word(tip.state)));
  return text;
}

std::string factors(const Hold& hold, const Look& look) {
  std::vector<std::string> parts;
  parts.reserve(hold.factors.size());
  for (const study::Assumption& factor : hold.factors)
    parts.push_back(fmt::format("{} {:g}", factor.what, factor.value) +
                    (factor.stated ? " (line file)" : " (common practice)"));
  return "Used: " + listed(parts) + ". The vacuum acts on the " +
         (hold.move.seal == line::SealAt::rim ? "whole rim" : "bore") + ". The room has " +
         units::show_significant(hold.ambient, *look.vacuum, 4) + '.';
}

}  // namespace

std::string hold_text(const line::Line& line, const Hold& hold, const Look& look,
                      std::span<const study::Outage> outages) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(hold_verdict(line, hold, look)) + '\n' + budget(line, hold, look) + '\n' + limits(line, hold, look) +
         '\n';
  const std::string how =
      "Safety is in what is needed, so as not to drop, slide or tilt in any move. at least: at the wide end of the "
      "gap's "
      "tolerance, by which the line is judged. still holds: one thing changed alone, all else as in the file.";
  for (const std::string& text : {factors(hold, look), how})
    for (const std::string& row : wrap(text, 80)) out += look.style.dim(row) + '\n';
  if (const std::string outage = outage_text(line, outages, look); !outage.empty()) out += '\n' + outage;
  for (const std::string& note : hold.notes) out += paragraph("Note: " + said_in(look, note) + ".", 80, 2);
  out += '\n' + paragraph("Next, what costs it the most:") + "    airtally rank " + typed_line(line, look.changes) +
         tips_asked(line, hold) + " --objective hold\n";
  out += paragraph(
      "Vacuum lets go when the power fails: where a dropped part can hurt someone, vacuum alone must not hold it.");
  return out;
}

}  // namespace airtally::report
