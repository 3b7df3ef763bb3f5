// What a cycle comes to, in a few sentences.
#include <algorithm>
#include <cmath>

#include "report/cycle_text.hpp"
#include "report/safe_side.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::CycleAnswer;
using study::HeadCycle;
using units::Dimension;

std::string subject(const line::Line& line, const CycleAnswer& answer, const HeadCycle& head) {
  if (answer.heads.size() == 1) return "The head";
  const auto wait = [](const HeadCycle& each) { return each.safe_lift ? *each.safe_lift - each.touch : -1.0; };
  const bool alike = std::all_of(answer.heads.begin(), answer.heads.end(), [&](const HeadCycle& each) {
    return each.seat == head.seat && std::abs(wait(each) - wait(head)) < 1e-5;  // of what is shown nothing differs
  });
  const std::string count = std::to_string(answer.heads.size());
  return The(line.elements.at(head.nozzle)) + (!alike                     ? ", the slowest of " + count + " heads,"
                                               : answer.heads.size() == 2 ? ", like the other head,"
                                                                          : ", like all " + count + " heads,");
}

/// `who`, a head whose vacuum is short of the need at some stage: how, for a sentence.
std::string shortfall(const std::string& who, const HeadCycle& head, const Look& look) {
  if (head.margin_at_lift < 0.0)
    return who + " is told to lift at " + time(head.lift) + ", when it lacks " + vacuum(look, -head.margin_at_lift) +
           (head.safe_lift ? "; wait until " + no_less_than(*head.safe_lift, Dimension::time) + "." : ".");
  return who + " lacks " + vacuum(look, -head.margin_in_travel) + " on its travel, at " + time(head.worst_moment) +
         ": it may lose the part.";
}

/// What a part with the widest gap that the file allows changes, where it does: hold judges by that one.
std::string at_widest_gap(const line::Line& line, const CycleAnswer& answer, const Look& look) {
  if (answer.widest.empty()) return "";
  const std::string when =
      " At the widest gap of its part, " + units::show_fitting(answer.widest_gap, Dimension::length, 2);
  for (std::size_t k = 0; k < answer.widest.size(); ++k) {
    const HeadCycle& head = answer.widest[k];
    if (head.works() || !answer.heads.at(k).works()) continue;
    if (!head.safe_lift)
      return when + ", " + the(line.elements.at(head.nozzle)) + " never gets the " + vacuum(look, head.needed_to_lift) +
             " that it needs to lift, or loses it on the way.";
    return when + ", " + shortfall(the(line.elements.at(head.nozzle)), head, look);
  }
  const HeadCycle& slowest = answer.heads.at(answer.slowest);
  const auto& later = answer.widest.at(answer.slowest).safe_lift;
  if (!later || !slowest.safe_lift || *later - *slowest.safe_lift < 1e-3) return "";  // a millisecond: no news
  return when + ", it may lift at " + no_less_than(*later, Dimension::time) + '.';
}

/// Parts that are not let go within the cycle.
std::string stays_on(const line::Line& line, const CycleAnswer& answer) {
  std::vector<std::string> names;
  for (const HeadCycle& head : answer.heads)
    if (head.seat == line::Seat::closed && !head.let_go) names.push_back(the(line.elements.at(head.nozzle)));
  if (names.empty()) return "";
  if (names.size() == answer.heads.size() && names.size() > 1) return " None of the heads lets go of its part.";
  return ' ' + capital(listed(names)) +
         (names.size() > 1 ? " don't let go of their parts." : " does not let go of its part.");
}

}  // namespace

std::string cycle_verdict(const line::Line& line, const CycleAnswer& answer, const Look& look) {
  const HeadCycle& head = answer.heads.at(answer.slowest);
  std::string text = subject(line, answer, head);
  if (head.seat != line::Seat::closed) return text + " can't pick the part up: " + clean(head.why_not_closed) + ".";
  if (!head.safe_lift)
    return text + " never gets the " + vacuum(look, head.needed_to_lift) +
           " that it needs to lift, or loses it before it puts the part down." +
           (head.needed_to_lift >= line.site.pressure ? no_vacuum(vacuum(look, line.site.pressure)) : "");
  text += " may lift at " + no_less_than(*head.safe_lift, Dimension::time);
  if (*head.safe_lift <= head.touch)
    text += ", as soon as it meets the part.";
  else if (answer.limits.empty() || answer.limits.front().gain <= 0.0)
    text += ", " + time(*head.safe_lift - head.touch) + " after it meets the part.";
  else
    text += "; what holds it up most is " + the(line.elements.at(answer.limits.front().element.value())) + ": " +
            answer.limits.front().what + " it could lift " + time(answer.limits.front().gain) + " sooner.";
  for (const HeadCycle& each : answer.heads)
    if (each.safe_lift && !each.works()) text += ' ' + shortfall(The(line.elements.at(each.nozzle)), each, look);
  return text + at_widest_gap(line, answer, look) + stays_on(line, answer);
}

}  // namespace airtally::report
