// What a cycle comes to, in a few sentences.
#include <algorithm>
#include <cmath>

#include "line/cycle_order.hpp"
#include "report/cycle_text.hpp"
#include "report/cycle_timeline.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::CycleAnswer;
using study::HeadCycle;
using units::Dimension;

/// From the touch until the head may lift [s]; below 0: never.
double wait(const HeadCycle& head) { return head.safe_lift ? *head.safe_lift - head.touch : -1.0; }

/// Of what is shown nothing differs.
bool alike(const CycleAnswer& answer, double (*what)(const HeadCycle&)) {
  const HeadCycle& head = answer.heads.at(answer.slowest);
  return std::all_of(answer.heads.begin(), answer.heads.end(), [&](const HeadCycle& each) {
    return each.seat == head.seat && std::abs(what(each) - what(head)) < 1e-5;
  });
}

double touch(const HeadCycle& head) { return head.touch; }

/// Whether something in the line holds the slowest head up for long enough to be told.
bool held_up(const CycleAnswer& answer) {
  return !answer.limits.empty() && answer.limits.front().gain > least_gain(answer);
}

/// That what follows is not what the machine comes to, where the cycle never came to rest.
std::string not_settled(const CycleAnswer& answer) {
  if (answer.settled) return "";
  return "The cycle did not come to rest in the " + std::to_string(answer.repeats) +
         " times it was run: what follows is the last of them, and not what the machine comes to. ";
}

std::string subject(const line::Line& line, const CycleAnswer& answer, const HeadCycle& head) {
  if (answer.heads.size() == 1) return "The head";
  const std::string count = std::to_string(answer.heads.size());
  return The(line.elements.at(head.nozzle)) + (!alike(answer, wait)       ? ", the slowest of " + count + " heads,"
                                               : answer.heads.size() == 2 ? ", like the other head,"
                                                                          : ", like all " + count + " heads,");
}

/// When the head may lift that waits longest, or all that wait as long.
std::string may_lift(const line::Line& line, const CycleAnswer& answer, const HeadCycle& head) {
  const std::string may = " may " + (head.travels_with_lift ? lift_words(head) : "lift") + ' ',
                    at = "at " + safe_moment(answer, *head.safe_lift);
  const bool at_once = *head.safe_lift <= head.touch;
  const std::string later = cycle_scale(answer).text(wait(head)) + " after";
  // Heads that come down at moments of their own have no moment in common.
  if (alike(answer, wait) && !alike(answer, touch))
    return "Each of the " + std::to_string(answer.heads.size()) + " heads" + may +
           (at_once ? "as soon as it meets its part, " : later + " it meets its part, ") +
           the(line.elements.at(head.nozzle)) + ' ' + at;
  const std::string text = subject(line, answer, head) + may + at;
  if (at_once) return text + ", as soon as it meets the part";
  return held_up(answer) ? text : text + ", " + later + " it meets the part";
}

std::string what_holds_up(const line::Line& line, const CycleAnswer& answer, const HeadCycle& head) {
  if (*head.safe_lift <= head.touch || !held_up(answer)) return ".";
  const study::CycleGain& most = answer.limits.front();
  return "; what holds it up most is " + the(line.elements.at(most.element.value())) + ": " + most.what +
         " it could lift " + time(most.gain) + " sooner.";
}

/// That a head has not what its lift, or its travel with it, needs.
std::string never_gets(const HeadCycle& head, const Look& look) {
  return " never gets the " + vacuum(look, head.needed_from_lift()) + " that it needs to " +
         (head.needed_from_lift() > head.needed_to_lift ? "lift and travel" : "lift") + ", or loses it ";
}

/// What a head lacks that never may lift: it has the vacuum too late, or not long enough.
std::string why_never(const line::Line& line, const CycleAnswer& answer, const HeadCycle& head, const Look& look) {
  if (!head.held_from)
    return never_gets(head, look) +
           (head.release < head.place ? "before it is told to let go." : "before it puts the part down.");
  const Scale times = cycle_scale(answer);
  const auto by = line::key(line::letting_go(*line.cycle, head.valve.has_value()));
  return " has the " + vacuum(look, head.needed_from_lift()) + " that it needs from " +
         safe_moment(answer, *head.held_from) + " on, but is told to let go (" + std::string(by) + ") at " +
         times.text(head.release) + ", " + times.text(head.place - head.release) + " before it puts the part down at " +
         times.text(head.place) + ": the vacuum is gone at " + times.text(head.lost_at) + ". Give " + std::string(by) +
         " later, or place sooner.";
}

/// `who`, a head whose vacuum is short of the need at some stage: how, for a sentence.
std::string shortfall(const std::string& who, const CycleAnswer& answer, const HeadCycle& head, const Look& look) {
  const Scale times = cycle_scale(answer);
  const auto wait_until = [&](const std::optional<double>& safe, double is) {
    return safe && *safe > is ? "; wait until " + safe_moment(answer, *safe) + "." : ".";
  };
  if (head.margin_at_lift < 0.0)
    return who + " is told to lift at " + times.text(head.lift) + ", when it lacks " +
           vacuum(look, -head.margin_at_lift) + wait_until(head.safe_lift, head.lift);
  return who + " lacks " + vacuum(look, -head.margin_in_travel) + " on its travel, at " +
         times.text(head.worst_moment) + ": it may lose the part" + wait_until(head.safe_travel, head.travel);
}

/// What a part with the widest gap that the file allows changes, where it does: hold judges by that one.
std::string at_widest_gap(const line::Line& line, const CycleAnswer& answer, const Look& look) {
  if (answer.widest.empty()) return "";
  const std::string when =
      " At the widest gap of its part, " + units::show_fitting(answer.widest_gap, Dimension::length, 2);
  for (std::size_t k = 0; k < answer.widest.size(); ++k) {
    const HeadCycle& head = answer.widest[k];
    if (head.works() || !answer.heads.at(k).works()) continue;
    if (!head.safe_lift) return when + ", " + the(line.elements.at(head.nozzle)) + why_never(line, answer, head, look);
    return when + ", " + shortfall(the(line.elements.at(head.nozzle)), answer, head, look);
  }
  const HeadCycle& slowest = answer.heads.at(answer.slowest);
  const auto& later = answer.widest.at(answer.slowest).safe_lift;
  if (!later || !slowest.safe_lift || *later - *slowest.safe_lift < 1e-3) return "";  // a millisecond: no news
  return when + ", it may lift at " + safe_moment(answer, *later) + '.';
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
  if (head.seat != line::Seat::closed)
    return subject(line, answer, head) + " can't pick the part up: " + clean(head.why_not_closed) + ".";
  if (!head.safe_lift)
    return not_settled(answer) + subject(line, answer, head) + why_never(line, answer, head, look) +
           (head.needed_from_lift() >= line.site.pressure ? no_vacuum(vacuum(look, line.site.pressure)) : "") +
           (head.margin_at_lift >= 0.0 && !head.held_from
                ? ' ' + shortfall(The(line.elements.at(head.nozzle)), answer, head, look)
                : "");
  std::string text = not_settled(answer) + may_lift(line, answer, head) + what_holds_up(line, answer, head);
  for (const HeadCycle& each : answer.heads)
    if (each.safe_lift && !each.works())
      text += ' ' + shortfall(The(line.elements.at(each.nozzle)), answer, each, look);
  return text + at_widest_gap(line, answer, look) + stays_on(line, answer);
}

}  // namespace airtally::report
