// What a ranking says in sentences.
#include "report/rank_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/shut_words.hpp"
#include "report/trial.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {

using study::ElementCost;
using study::Objective;
using study::Ranking;

bool needs_too_much(const Ranking& ranking) {
  return ranking.least_vacuum && *ranking.needed_vacuum > ranking.ideal_vacuum;
}

namespace {

const ElementCost* worst_by(const Ranking& ranking, double ElementCost::*what) {
  const auto worst = std::max_element(ranking.elements.begin(), ranking.elements.end(),
                                      [what](const auto& a, const auto& b) { return a.*what < b.*what; });
  return worst == ranking.elements.end() || !((*worst).*what > 0.0) ? nullptr : &*worst;
}

/// Which half of the element to blame, from its two gains.
std::string half(const ElementCost& worst, const Scale& scale) {
  if (worst.leak_gain <= 0.0 && worst.restriction_gain <= 0.0) return "";
  const bool leak = worst.leak_gain >= worst.restriction_gain;
  return leak ? " Sealing its leak alone would win " + scale.text(worst.leak_gain) + "."
              : " Its restriction is to blame: wide open, it would win " + scale.text(worst.restriction_gain) + ".";
}

std::string short_sentence(const Ranking& ranking, const Scale& scale) {
  if (!needs_too_much(ranking)) return "";
  return "Even with no leak and no restriction the tip would have " + scale.text(ranking.ideal_vacuum) + ", " +
         scale.text(*ranking.needed_vacuum - ranking.ideal_vacuum) + " less than the " +
         scale.text(*ranking.needed_vacuum) +
         " that the part needs: no repair of the line is enough. Take a larger bore at the nozzle, a lighter part or "
         "gentler moves. ";
}

/// How many times the tip has what the part needs, where that is so much that no loss explains a part that drops; ""
/// where it is not.
std::string ample_times(const Ranking& ranking) {
  constexpr double ample = 3.0;  // in what is needed there are the safety factors; no source
  if (!ranking.least_vacuum || !(*ranking.needed_vacuum > 0.0)) return "";
  const double times = *ranking.least_vacuum / *ranking.needed_vacuum;
  if (times < ample) return "";
  if (times >= 100.0) return "over 100";
  // Rounded down: it has at least that. Below ten a whole number would hide up to a quarter of it.
  const double step = times < 10.0 ? 10.0 : 1.0;
  return fmt::format("{:g}", std::floor(step * times) / step);
}

const std::string explains_no_drop = ": once the vacuum stands, no loss on the way explains a part that drops.";

std::string cost_sentence(const line::Line& line, const Ranking& ranking, const Scale& scale) {
  const ElementCost* worst = worst_by(ranking, &ElementCost::fair_share);
  const std::string tip = ranking.tip == solve::TipState::open      ? "the open tip"
                          : ranking.tip == solve::TipState::blocked ? "the blocked tip"
                                                                    : "the tip";
  if (worst == nullptr || ranking.total_loss <= 0.0)
    return "Nothing on the way costs " + tip + " any vacuum: it has all the " + scale.text(ranking.ideal_vacuum) +
           " that the pump gives it.";
  constexpr double little = 0.02;  // of what the tip could have: nobody takes a line apart for it
  if (ranking.total_loss < little * ranking.ideal_vacuum)
    return "Little is lost on the way: " + tip + " has " + scale.text(ranking.tip_vacuum) + " of the " +
           scale.text(ranking.ideal_vacuum) + " that it would have with no leak and no restriction. The most of it, " +
           scale.text(worst->fair_share) + ", goes to " + the(line.elements[worst->element]) + ".";
  std::string text = The(line.elements[worst->element]) + " costs " + tip + ' ';
  // An excess that print does not show is no news, and may be the solver's last digit.
  if (worst->fair_share <= ranking.total_loss || scale.number(worst->fair_share) == scale.number(ranking.total_loss))
    text += scale.number(worst->fair_share) + " of the " + scale.text(ranking.total_loss) +
            (ranking.at_parts ? " that it loses on the way." : " it lacks.");
  else  // some elements have negative shares: they throttle the air that comes in elsewhere
    text += scale.text(worst->fair_share) +
            "; elements that keep out the air of other branches give some of it back, so " + "that it lacks " +
            scale.text(ranking.total_loss) + " in all.";
  return text + half(*worst, scale) + " The tip has " + scale.text(ranking.tip_vacuum) +
         "; with no leak and no restriction it would have " + scale.text(ranking.ideal_vacuum) + ".";
}

/// Where a valve stands shut before the tip: that, and no element, is why it has no vacuum.
std::string shut_sentence(const line::Line& line, const Ranking& ranking, const Scale& scale) {
  const auto shut = valve_to_open(ranking);
  if (!shut) return "";
  const line::Element& valve = line.elements[*shut];
  return stands_shut(valve) + ", so the tip has none of the " + scale.text(ranking.source_vacuum) +
         " that the pump has, and no element beyond it is to blame. " + open_it(valve);
}

std::string hold_sentence(const line::Line& line, const Ranking& ranking, const Scale& scale) {
  if (!ranking.needed_vacuum) return "";
  if (!ranking.why_not_closed.empty())
    return "Nothing done to the line lets it hold: " + clean(ranking.why_not_closed) +
           ". As if the part did close it, otherwise: ";
  const bool unsure = line.part && !line.part->gap.is_exact();
  const std::string gap =
      unsure ? " at the widest gap of " + units::show_fitting(line.part->gap.high, units::Dimension::length, 2) : "";
  const std::string times = ample_times(ranking);
  const double spare = ranking.tip_vacuum - *ranking.needed_vacuum;
  return "The part needs " + scale.text(*ranking.needed_vacuum) + " and the tip has " + scale.text(ranking.tip_vacuum) +
         gap + (spare >= 0.0 ? ": " + scale.text(spare) + " to spare. " : ": " + scale.text(-spare) + " too little. ") +
         (times.empty() ? "" : "It has " + times + " times what the part needs" + explains_no_drop + ' ');
}

std::string settle_sentence(const line::Line& line, const Ranking& ranking) {
  const ElementCost* worst = worst_by(ranking, &ElementCost::reach_gain);
  if (worst == nullptr) return "No element keeps the tip waiting: it settles in " + time(ranking.settle) + ". ";
  return The(line.elements[worst->element]) +
         " keeps the tip waiting longest: without its leak and restriction, today's "
         "vacuum would be there " +
         time(worst->reach_gain) + " sooner than the " + time(ranking.settle) + " it takes. ";
}

}  // namespace

std::string parts_sentence(const line::Line& line, const Ranking& ranking, const Look& look) {
  const study::AtParts& parts = *ranking.at_parts;
  const bool one = line::all_of(line, line::Kind::nozzle).size() == 1;
  constexpr double fine = 2e-5;  // a litre of free air a minute [kg/s]
  const Scale flows = parts.all < fine ? leak_scale(parts.all) : flow_scale(parts.all),
              scale = vacuum_scale(look, parts.sealed_vacuum);
  constexpr double some = 0.1;  // of it: less of the other kind is not worth a word
  const double lesser = std::min(ranking.under_parts, ranking.through_parts);
  const bool both = lesser > some * (ranking.under_parts + ranking.through_parts);
  const std::string them = one ? "the part" : "the parts";
  const std::string way = both ? "at " + them + " (" + flows.text(ranking.under_parts) + " between rim and part, " +
                                     flows.text(ranking.through_parts) + " through the part itself)"
                               : (parts.through ? "through " : "under ") + them;
  return "Most of the air, " + flows.number(parts.flow) + " of " + flows.text(parts.all) + ", comes in " + way +
         ", and no element costs as much: if " + (one ? "it" : "they") + " sealed, the tip would have " +
         scale.text(parts.sealed_vacuum) + ". " +
         (parts.through
              ? (one ? "It is" : "They are") +
                    std::string(" porous: pick where that is less so, or use a wider line and a pump that gives more "
                                "flow.")
              : "Seek a smaller gap between rim and part, or a rim that gives; a wider nozzle has more rim to leak "
                "under.");
}

std::string rank_verdict(const line::Line& line, const Ranking& ranking, const Look& look) {
  const Scale scale = vacuum_scale(
      look, std::max({ranking.total_loss, ranking.tip_vacuum, ranking.shut ? ranking.source_vacuum : 0.0}));
  if (std::string shut = shut_sentence(line, ranking, scale); !shut.empty()) return shut;
  std::string text;
  if (ranking.objective == Objective::hold) text += hold_sentence(line, ranking, scale);
  if (ranking.objective == Objective::settle) text += settle_sentence(line, ranking);
  text += short_sentence(ranking, scale);
  if (ranking.at_parts) text += parts_sentence(line, ranking, look) + ' ';
  text += cost_sentence(line, ranking, scale);
  const std::string times = ample_times(ranking);
  if (ranking.objective == Objective::hold || times.empty()) return text;
  const bool unsure = line.part && !line.part->gap.is_exact();
  return text + " The part needs " + scale.text(*ranking.needed_vacuum) + ", and " +
         (unsure ? "at the widest gap under it " : "") + "the tip has " + times + " times that" + explains_no_drop;
}

}  // namespace airtally::report
