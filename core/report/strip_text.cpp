#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "line/meters.hpp"
#include "line/shut_valve.hpp"
#include "report/plain_number.hpp"
#include "report/shut_words.hpp"
#include "report/strip_columns.hpp"
#include "report/strip_words.hpp"
#include "report/table.hpp"
#include "report/text.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/unit.hpp"

namespace airtally::report {
namespace {

using study::Strip;
using study::StripStep;

const StripStep* culprit_step(const Strip& strip) {
  if (!strip.culprit) return nullptr;
  const auto found = std::find_if(strip.steps.begin(), strip.steps.end(),
                                  [&](const StripStep& step) { return step.cap == *strip.culprit; });
  return found == strip.steps.end() ? nullptr : &*found;
}

std::string fall(const Strip& strip, const StripStep& step, const Look& look) {
  const StripColumn judge{step.judge, strip.by_current && step.judge == strip.judge};
  const auto now = reading(step.readings, judge), before = reading(step.without, judge);
  if (!now || !before) return "by " + vacuum(look, step.change);
  const Scale scale =
      strip.by_current ? current_scale(std::max(*now, *before)) : vacuum_scale(look, std::max(*now, *before));
  return "from " + scale.number(*before) + " to " + scale.text(*now);
}

}  // namespace

std::string strip_verdict(const line::Line& line, const Strip& strip, const Look& look) {
  const StripStep* step = culprit_step(strip);
  const std::string assumed =
      strip.assumed_gauge ? " (The line has neither gauge nor ammeter; a gauge at its pump was assumed.)" : "";
  if (const auto shut = step == nullptr ? line::shut_valve(line) : std::nullopt)
    return stands_shut(line.elements[*shut]) +
           ", so no step beyond it is on the pump, and before it none is big enough for " + judging(line, strip) +
           " to show. " + open_it(line.elements[*shut]);
  if (step == nullptr)
    return "Capped behind one element after another, " + nothing_shows(line, strip, look) +
           " airtally rank tells what each costs the tip; the bench tells it with the tip open, or a drilled plate at "
           "the end." +
           assumed;
  const std::string instrument =
      step->judge != strip.judge ? "a gauge at " + the(line.elements[step->judge]) : judging(line, strip);
  return The(line.elements[step->cap]) + " makes the biggest step: with it on the line, " + instrument + " falls " +
         fall(strip, *step, look) + "." + assumed;
}

namespace {

std::string steps_table(const line::Line& line, const Strip& strip, const Look& look) {
  double vacuum = 0.0, change = 0.0, current = 0.0;
  for (const StripStep& step : strip.steps) {
    vacuum = std::max(vacuum, std::abs(step.end));
    for (const auto& r : step.readings) {
      vacuum = std::max(vacuum, std::abs(r.vacuum));
      current = std::max(current, r.current.value_or(0.0));
    }
    change = std::max(change, std::abs(step.change));
  }
  const Scale vacuums = vacuum_scale(look, vacuum), changes = vacuum_scale(look, change),
              amperes = current_scale(current);
  const std::vector<StripColumn> all = instruments(line, strip);
  const std::vector<StripColumn> shown(all.begin(),
                                       all.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(3, all.size())));
  std::vector<Column> columns{{"step"}, {"cap behind", "", true}};
  for (const StripColumn& i : shown)
    columns.push_back({cut(i.loose     ? std::string("in the plug")
                           : i.ammeter ? std::string("ammeter")
                                       : name(line, i.at),
                           14, look.style.cut_mark()),
                       i.ammeter ? amperes.unit() : vacuums.unit()});
  columns.push_back({"change", strip.by_current ? amperes.unit() : changes.unit()});
  columns.push_back({""});
  Table table(columns);
  for (std::size_t s = 0; s < strip.steps.size(); ++s) {
    const StripStep& step = strip.steps[s];
    const bool culprit = strip.culprit == step.cap;
    const bool nozzle = line.elements[step.cap].kind == line::Kind::nozzle;
    std::vector<std::string> cells{std::to_string(s + 1), name(line, step.cap) + (nozzle ? ", tip blocked" : "")};
    for (const StripColumn& i : shown) {
      const auto value = reading(step, i);
      cells.push_back(!value ? "off" : (i.ammeter ? amperes : vacuums).number(*value));
    }
    const auto now = reading(step.readings, {strip.judge, true}), before = reading(step.without, {strip.judge, true});
    if (step.before == s || (strip.by_current && step.judge != strip.judge))
      cells.emplace_back("-");
    else if (strip.by_current && now && before)
      cells.push_back(amperes.gain(*now - *before));
    else
      cells.push_back(changes.gain(-step.change));
    cells.emplace_back(culprit ? std::string(look.style.arrow()) : "");
    table.add(cells, culprit);
  }
  std::string out = table.text(look.style);
  if (shown.size() < all.size())
    out += look.style.dim(counted(all.size() - shown.size(), "more instrument") + ": see --sheet or --json.") + '\n';
  return out;
}

/// Where the line forks: what each branch costs by itself.
std::string branches_table(const line::Line& line, const Strip& strip, const Look& look) {
  double vacuum = 0.0, change = 0.0, current = 0.0;
  const auto take = [&](const std::vector<study::StripReading>& readings) {
    for (const study::StripReading& r : readings) {
      vacuum = std::max(vacuum, std::abs(r.vacuum));
      current = std::max(current, r.current.value_or(0.0));
    }
  };
  take(strip.whole);
  for (const study::StripBranch& branch : strip.branches) {
    take(branch.readings);
    change = std::max(change, std::abs(branch.change));
  }
  const Scale vacuums = vacuum_scale(look, vacuum), changes = vacuum_scale(look, change),
              amperes = current_scale(current);
  const StripColumn judge{strip.judge, strip.by_current};
  const Scale& scale = strip.by_current ? amperes : vacuums;
  Table table({{"branch off", "", true},
               {cut(strip.by_current ? std::string("ammeter") : name(line, strip.judge), 14, look.style.cut_mark()),
                scale.unit()},
               {"change", (strip.by_current ? amperes : changes).unit()}});
  const auto now = reading(strip.whole, judge);
  table.add({"none", now ? scale.number(*now) : "off", "-"});
  for (const study::StripBranch& branch : strip.branches) {
    const auto without = reading(branch.readings, judge);
    table.add({name(line, branch.off), without ? scale.number(*without) : "off",
               !without || !now   ? "-"
               : strip.by_current ? amperes.gain(*without - *now)
                                  : changes.gain(branch.change)});
  }
  return paragraph(
             "Where the line forks: one branch off at a time, the opening that it leaves blocked, the line else "
             "whole " +
             state_phrase(strip.tips) + ".") +
         '\n' + table.text(look.style);
}

}  // namespace

std::string strip_text(const line::Line& line, const Strip& strip, const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(strip_verdict(line, strip, look)) + '\n' + steps_table(line, strip, look) + '\n';
  std::string how =
      "At each step everything beyond that element is off and its tip-side end is blocked. \"off\": that gauge has "
      "come off "
      "with the rest. change: what the element itself brings, against the same line without it.";
  const std::vector<StripColumn> all = instruments(line, strip);
  if (std::any_of(all.begin(), all.end(), [](const StripColumn& i) { return i.loose; }))
    how += " \"in the plug\": a loose gauge in what blocks the end, as some steps have no other.";
  const bool others = std::any_of(strip.steps.begin(), strip.steps.end(), [&](const StripStep& step) {
    return step.change != 0.0 && step.judge != strip.judge;
  });
  const bool gauge = !strip.by_current && !strip.assumed_gauge;
  if (others && gauge)
    how += " Where the gauge is off, or not open to that element, the change is that of the vacuum at its pump.";
  if (leaves_others_on(line, strip))
    how += " Behind a fork the other branches are on in both, their tips as they were asked for.";
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  if (!strip.branches.empty()) out += '\n' + branches_table(line, strip, look);
  if (!strip.culprit && !line::shut_valve(line))
    return out + '\n' + paragraph("Next: readings that do show it, one after the other:") +
           "    airtally hunt --bench " + typed_file(line) + '\n' + paragraph(bench_cautions(line));
  out += '\n' + paragraph("Next: try it. This prints the same as a form to fill in, with the cautions:") +
         "    airtally strip " + typed_line(line, look.changes) + " --sheet\n";
  out += paragraph(bench_cautions(line));
  return out;
}

}  // namespace airtally::report
