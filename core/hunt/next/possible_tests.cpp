#include <algorithm>
#include <iterator>
#include <utility>

#include "hunt/next/next_test.hpp"
#include "line/topology.hpp"

namespace airtally::hunt {

using line::Kind;
using solve::TipState;

namespace {

/// Whether a drilled plate can be put there: one port to close, and a nozzle that is wider than the hole.
bool takes_plate(const line::Line& line, const line::Topology& topology, std::size_t at, double hole) {
  const auto* bore = std::get_if<line::Bore>(&line.elements[at].restriction);
  if (line.elements[at].kind == Kind::nozzle && bore != nullptr && bore->bore.value <= hole) return false;
  return topology.beyond[at].size() < 2;
}

/// Joints to undo to cap the line there: one port each.
double joints(const line::Line& line, const line::Topology& topology, std::size_t at) {
  return line.elements[at].effort * static_cast<double>(std::max<std::size_t>(topology.beyond[at].size(), 1));
}

/// Branches that may be taken off where the line forks behind that element: each by itself, and the first few, by which
/// who looks for one of many halves them again and again. What is plugged is no branch, nor is a nozzle by itself,
/// which is blocked instead: many can't be taken off, such as holes in a plate.
std::vector<std::vector<std::size_t>> branches(const line::Line& line, const line::Topology& topology, std::size_t at) {
  std::vector<std::vector<std::size_t>> all;
  if (topology.beyond[at].size() < 2) return all;
  std::vector<std::size_t> first;
  for (const std::size_t i : topology.beyond[at]) {
    if (line.elements[i].kind == Kind::plug || line.elements[i].kind == Kind::nozzle) continue;
    all.push_back({i});
    first.push_back(i);
    if (first.size() > 1 && first.size() < topology.beyond[at].size()) all.push_back(first);
  }
  return all;
}

/// The nozzles that stand on that element themselves, the first few blocked where there are more, the others as usual.
std::vector<std::vector<TipState>> first_blocked(const line::Line& line, const line::Topology& topology, std::size_t at,
                                                 const std::vector<TipState>& usual) {
  const std::vector<std::size_t> nozzles = line::all_of(line, Kind::nozzle);
  std::vector<std::size_t> here;  // places among the nozzles
  for (std::size_t k = 0; k < nozzles.size(); ++k)
    if (topology.before[nozzles[k]] == at && usual[k] != TipState::blocked) here.push_back(k);
  std::vector<std::vector<TipState>> all;
  std::vector<TipState> tips = usual;
  for (std::size_t k = 0; k + 1 < here.size(); ++k) {
    tips[here[k]] = TipState::blocked;
    if (k > 0) all.push_back(tips);  // one by itself is that nozzle capped
  }
  return all;
}

/// Mouths to block for a setting whose tips are not all alike, none of them capped: as many.
double mouths(const Setting& setting) {
  const auto blocked = std::count(setting.tips.begin(), setting.tips.end(), TipState::blocked);
  const bool whole = !setting.cap && setting.off.empty();
  return whole && blocked < std::ssize(setting.tips) ? static_cast<double>(blocked) : 0.0;
}

/// Joints to undo for a setting, a nozzle blocked by itself or with some others counting as one each.
double joints(const line::Line& line, const line::Topology& topology, const Setting& setting) {
  double all = setting.cap ? joints(line, topology, *setting.cap) : mouths(setting);
  for (const std::size_t i : setting.off) all += line.elements[topology.before[i]].effort;
  return all;
}

/// Holes of the plates that may be read with, the least first.
std::vector<double> at_hand(const Suspects& suspects, const Bench& bench) {
  if (bench.plates) return *bench.plates;
  std::vector<double> all(std::begin(drills), std::end(drills));
  for (const Unknown& unknown : suspects.unknowns)
    if (unknown.what == What::plate) all.push_back(unknown.hole);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

}  // namespace

std::vector<NextTest> possible_tests(const Suspects& suspects, const Bench& bench, const std::vector<TipState>& usual) {
  const line::Line& line = suspects.line;
  const line::Topology topology = line::topology(line);
  const std::vector<double> plates = at_hand(suspects, bench);
  std::vector<Setting> settings;
  for (TipState state : {TipState::open, TipState::part, TipState::blocked})
    if (state != TipState::part || line.part) settings.push_back({{}, 0.0, std::vector<TipState>(usual.size(), state)});
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    if (line.elements[i].kind == Kind::plug) continue;
    if (line.elements[i].kind == Kind::nozzle && usual.size() == 1)
      continue;  // the tip blocked, which is there already
    settings.push_back({i, 0.0, usual});
    for (double hole : plates)
      if (takes_plate(line, topology, i, hole)) settings.push_back({i, hole, usual});
    for (std::vector<std::size_t>& off : branches(line, topology, i))
      settings.push_back({{}, 0.0, usual, std::move(off)});
    for (std::vector<TipState>& tips : first_blocked(line, topology, i, usual))
      settings.push_back({{}, 0.0, std::move(tips)});
  }
  std::vector<std::pair<Instrument, std::size_t>> instruments;
  for (std::size_t i : gauges(line)) instruments.emplace_back(Instrument::vacuum, i);
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].pump && !line.elements[i].pump->current.empty())
      instruments.emplace_back(Instrument::current, i);
  const bool loose = std::any_of(suspects.unknowns.begin(), suspects.unknowns.end(),
                                 [](const Unknown& unknown) { return unknown.error_of(Instrument::plugged, 0); });
  std::vector<NextTest> tests;
  for (const Setting& one : settings) {
    const Setting setting = as_compared(line, topology, one);
    const std::vector<std::size_t> index = cut(line, topology, setting).index;
    NextTest test{setting, {}, joints(line, topology, setting)};
    for (const auto& [instrument, at] : instruments)
      if (index[at] != line::none) test.dials.push_back({instrument, at});
    if (loose && setting.cap && setting.hole == 0.0) test.dials.push_back({Instrument::plugged, *setting.cap});
    if (!test.dials.empty()) tests.push_back(std::move(test));
  }
  return tests;
}

}  // namespace airtally::hunt
