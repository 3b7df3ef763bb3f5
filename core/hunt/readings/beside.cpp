#include "hunt/readings/beside.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "hunt/readings/beside_branches_private.hpp"
#include "hunt/readings/beside_others_private.hpp"
#include "hunt/readings/contradictions_private.hpp"
#include "hunt/readings/cut.hpp"
#include "hunt/readings/in_doubt_private.hpp"

namespace airtally::hunt {
namespace {

constexpr double deviations_enough = 3.0;  ///< standard deviations

/// The step that a reading was taken at; none for a drilled plate, or where a tip that is on the line is in another
/// state than in the strip.
std::optional<std::size_t> step_of(const line::Line& line, const line::Topology& topology, const study::Strip& strip,
                                   const Reading& reading) {
  std::optional<std::size_t> cap = reading.setting.cap;
  const auto nozzles = line::all_of(line, line::Kind::nozzle);
  if (!cap && nozzles.size() == 1 && reading.setting.tips == std::vector{solve::TipState::blocked}) cap = nozzles[0];
  if (!cap || reading.setting.hole > 0.0 || !reading.setting.off.empty()) return std::nullopt;
  const Setting same{cap, 0.0, strip.tips};
  if (cut(line, topology, same).tips != cut(line, topology, {cap, 0.0, reading.setting.tips}).tips) return std::nullopt;
  for (std::size_t s = 0; s < strip.steps.size(); ++s)
    if (strip.steps[s].cap == *cap) return s;
  return std::nullopt;
}

/// The state of all tips that are on the line in a reading without a plate, where that is another than in the strip.
std::optional<solve::TipState> state_of_tips(const line::Line& line, const line::Topology& topology,
                                             const study::Strip& strip, const Reading& reading) {
  const Setting& setting = reading.setting;
  if (setting.hole > 0.0) return std::nullopt;
  const std::vector<solve::TipState> had = cut(line, topology, setting).tips;
  if (had.empty() || had == cut(line, topology, {setting.cap, 0.0, strip.tips, setting.off}).tips) return std::nullopt;
  const bool same = std::count(had.begin(), had.end(), had[0]) == std::ssize(had);
  return same ? std::optional(had[0]) : std::nullopt;
}

std::optional<double> predicted(const study::StripStep& step, Instrument instrument, std::size_t at) {
  if (instrument == Instrument::plugged) return step.end;
  for (const study::StripReading& reading : step.readings) {
    if (reading.at != at) continue;
    if (instrument == Instrument::vacuum) return reading.vacuum;
    if (instrument == Instrument::current) return reading.current;
  }
  return std::nullopt;
}

/// Readings that have none to compare them with, held against the file itself.
void hold_against_file(const study::Strip& strip, BesideAll& all) {
  constexpr double about = 0.8;  ///< as much
  const std::vector<Beside>& list = all.list;
  const auto lacks = [&](std::size_t i) { return list[i].predicted - list[i].read; };
  const auto own = [&](std::size_t i) { return std::hypot(list[i].noise, list[i].accuracy); };
  std::vector<std::size_t> low, high, other;  // gauges that show less, or more, than the file says; ammeters
  for (std::size_t i = 0; i < list.size(); ++i) {
    const double off = std::fabs(lacks(i));
    if (list[i].compared || off <= as_pumps * std::fabs(list[i].predicted) || off <= deviations_enough * own(i))
      continue;
    (!is_gauge(list[i].instrument) ? other : lacks(i) > 0.0 ? low : high).push_back(i);
  }
  const auto most = [&](const std::vector<std::size_t>& some, const auto& of) {
    const auto found = std::max_element(some.begin(), some.end(), [&](auto a, auto b) { return of(a) < of(b); });
    return found == some.end() ? std::nullopt : std::optional(*found);
  };
  all.above = most(high, [&](std::size_t i) { return -lacks(i); });
  all.off = most(low, lacks);
  if (!all.off) {
    all.off = most(other, [&](std::size_t i) { return std::fabs(lacks(i)) / own(i); });
    return;
  }
  const double enough = about * lacks(*all.off);
  for (const std::size_t i : low)
    if (lacks(i) >= enough && is_nearer(strip, list[i].step, list[*all.off].step)) all.off = i;
  // What the source shows with nothing else on it, no line can have brought: it wins, though in amperes it can't be
  // said how much of the lacking vacuum it is.
  const auto alone = [&](std::size_t i) { return strip.steps[list[i].step].before == list[i].step; };
  if (!alone(*all.off)) {
    std::vector<std::size_t> sources;
    std::copy_if(other.begin(), other.end(), std::back_inserter(sources), alone);
    if (const auto source = most(sources, [&](std::size_t i) { return std::fabs(lacks(i)) / own(i); })) {
      all.off = source;
      all.off_confirmed = true;
      return;
    }
  }
  const Beside& off = list[*all.off];
  all.off_confirmed = std::any_of(low.begin(), low.end(), [&](std::size_t i) {
    return lacks(i) >= enough && (list[i].at != off.at || list[i].instrument != off.instrument);
  });
}

}  // namespace

BesideAll beside(const line::Line& line, const study::Strip& strip, const Readings& readings) {
  BesideAll all;
  std::vector<Reading> possible = readings.list;
  all.set_aside = set_aside_impossible(line, readings.bench, possible);
  const line::Topology topology = line::topology(line);
  const bool several = line::all_of(line, line::Kind::nozzle).size() > 1;
  for (Reading& reading : possible) {
    const std::vector<solve::TipState> tips = reading.setting.tips;  // those that are off too, as they were noted
    if (!reading.setting.off.empty()) reading.setting = as_compared(line, topology, std::move(reading.setting));
    const auto step = step_of(line, topology, strip, reading);
    const auto expected =
        step ? predicted(strip.steps[*step], reading.instrument, reading.at) : std::optional<double>();
    if (!expected) {
      if (auto branch = branch_beside(line, topology, strip, readings.bench, reading)) {
        all.branches.push_back(std::move(*branch));
      } else {
        ++all.others;
        const auto other = other_beside(line, topology, readings.bench, reading);
        if (other && far_off(*other) > (all.far ? far_off(*all.far) : 0.0)) all.far = other;
      }
      if (!all.other_tips) all.other_tips = state_of_tips(line, topology, strip, reading);
      continue;
    }
    const Meter meter = meter_at(line, readings.bench, reading.instrument, reading.at);
    all.list.push_back({*step, reading.instrument, reading.at, reading.value, *expected,
                        reading.noise > 0.0 ? reading.noise : meter.noise(), 0.5 * meter.accuracy, 0.0, false,
                        reading.where, several ? tips : std::vector<solve::TipState>(), *step});
  }
  std::stable_sort(all.list.begin(), all.list.end(), [](const Beside& a, const Beside& b) { return a.step < b.step; });
  double most = 0.0, most_spared = 0.0;
  for (std::size_t i = 0; i < all.list.size(); ++i) {
    Beside& here = all.list[i];
    const bool loose = here.instrument == Instrument::plugged;  // the same gauge, wherever it is
    // Towards the source until a step was read at this instrument.
    for (std::size_t s = here.step; strip.steps[s].before != s && !here.compared;) {
      s = strip.steps[s].before;
      for (const Beside& b : all.list)
        if (b.step == s && b.instrument == here.instrument && (b.at == here.at || loose) && !here.compared) {
          here.compared = true;
          here.from = s;
          here.surprise = (here.read - b.read) - (here.predicted - b.predicted);
        }
    }
    if (!here.compared) continue;
    const double deviations = std::fabs(here.surprise) / (std::sqrt(2.0) * here.noise);
    const bool better = is_gauge(here.instrument) && here.surprise > 0.0;  // than the file says
    double& so_far = better ? most_spared : most;
    if (deviations <= std::max(so_far, deviations_enough)) continue;
    so_far = deviations;
    (better ? all.spared : all.worst) = i;
  }
  if (all.worst) {
    InDoubt found = in_doubt(line, strip, all, *all.worst, deviations_enough);
    all.worst = found.reading;
    all.in_doubt = std::move(found.elements);
  }
  hold_against_file(strip, all);
  compare_branches(deviations_enough, all);
  all.contradictions = contradictions(line, strip, all.list);
  return all;
}

}  // namespace airtally::hunt
