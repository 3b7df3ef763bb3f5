// Of a removal test in which no step shows: why, and what the file says comes in all the same.
#include <algorithm>
#include <cmath>

#include "line/meters.hpp"
#include "report/plain_number.hpp"
#include "report/strip_columns.hpp"
#include "report/strip_words.hpp"
#include "report/words.hpp"
#include "units/unit.hpp"

namespace airtally::report {

using study::Strip;
using study::StripStep;

std::string judging(const line::Line& line, const Strip& strip) {
  const std::string at = the(line.elements[strip.judge]);
  return strip.by_current ? "the ammeter of " + at : strip.assumed_gauge ? "a gauge at " + at : "the gauge at " + at;
}

namespace {

/// "The biggest, of the joint, is 1.2 kPa."
std::string biggest_step(const line::Line& line, const Strip& strip, const Look& look) {
  const auto size = [&](const StripStep& step) {
    if (!strip.by_current) return step.change;
    const auto now = reading(step.readings, {strip.judge, true}), before = reading(step.without, {strip.judge, true});
    return now && before && step.judge == strip.judge ? std::abs(*now - *before) : 0.0;
  };
  const auto most = std::max_element(strip.steps.begin(), strip.steps.end(),
                                     [&](const auto& a, const auto& b) { return size(a) < size(b); });
  if (most == strip.steps.end() || !(size(*most) > 0.0)) return "No element makes any.";
  const double si = size(*most);
  return "The biggest, of " + the(line.elements[most->cap]) + ", is " +
         (strip.by_current ? current_scale(si) : vacuum_scale(look, si)).text(si) + '.';
}

/// Where the air comes in that the line does lose, by the file.
std::string leakiest(const line::Line& line, const Strip& strip) {
  const auto most = std::max_element(strip.steps.begin(), strip.steps.end(),
                                     [](const auto& a, const auto& b) { return a.leak < b.leak; });
  if (most == strip.steps.end() || !(most->leak > 0.0)) return " By the file nothing leaks.";
  return " By the file " + the(line.elements[most->cap]) + " leaks most, " + leak_scale(most->leak).text(most->leak) +
         '.';
}

/// A branch that does show where no step does; "" where none.
std::string branch_that_shows(const line::Line& line, const Strip& strip, const Look& look) {
  if (strip.by_current || strip.branches.empty()) return "";
  const auto most = std::max_element(strip.branches.begin(), strip.branches.end(),
                                     [](const auto& a, const auto& b) { return a.change < b.change; });
  if (!(most->change > line::least_shown(line::gauge_step(line.elements[strip.judge])))) return "";
  return " But without the branch that begins with " + the(line.elements[most->off]) + " it would rise by " +
         vacuum(look, most->change) + ", which shows.";
}

}  // namespace

std::string nothing_shows(const line::Line& line, const Strip& strip, const Look& look) {
  const line::Element& judge = line.elements[strip.judge];
  const double step = strip.by_current ? line::ammeter_step(judge) : line::gauge_step(judge);
  const auto said = [&](double si) {
    return strip.by_current
               ? current_scale().text(si)
               : plain_number(units::from_si(si, *look.vacuum), 3) + ' ' + std::string(look.vacuum->symbol);
  };
  return "no element's step is big enough for " + judging(line, strip) + " to show: in steps of " + said(step) +
         " it tells two readings apart from " + said(line::least_shown(step)) + " on. " +
         biggest_step(line, strip, look) + leakiest(line, strip) + branch_that_shows(line, strip, look) +
         " A restriction hardly shows with the end blocked, as little air flows.";
}

}  // namespace airtally::report
