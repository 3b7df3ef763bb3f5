#include "study/strip.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "line/curves.hpp"
#include "line/meters.hpp"
#include "line/variant.hpp"

namespace airtally::study {
namespace {

using line::none;
using solve::TipState;

/// Elements from the sources outwards, each after the one it starts from.
std::vector<std::size_t> outwards(const line::Line& line, const line::Topology& topology) {
  std::vector<std::size_t> order, stack;
  for (std::size_t i = line.elements.size(); i-- > 0;)
    if (topology.before[i] == none) stack.push_back(i);
  while (!stack.empty()) {
    const std::size_t i = stack.back();
    stack.pop_back();
    order.push_back(i);
    const auto& next = topology.beyond[i];
    stack.insert(stack.end(), next.rbegin(), next.rend());
  }
  return order;
}

/// The line with what is capped off gone.
solve::SteadyAnswer solved(const line::Line& line, const line::Capped& capped, std::span<const TipState> tips,
                           std::size_t cap) {
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  std::vector<TipState> left;
  for (std::size_t k = 0; k < nozzles.size(); ++k)
    if (capped.index[nozzles[k]] != none) left.push_back(nozzles[k] == cap ? TipState::blocked : tips[k]);
  return solve::steady(capped.line, left);
}

/// Its readings, with the elements named as in the whole line.
std::vector<StripReading> read(const line::Line& line, const line::Capped& capped, const solve::SteadyAnswer& answer) {
  std::vector<StripReading> readings;
  const auto vacuum = [&](std::size_t i) { return answer.elements[capped.index[i]].vacuum; };
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].gauge && capped.index[i] != none) readings.push_back({i, vacuum(i), {}});
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    if (!line::is_source(line.elements[i].kind) || capped.index[i] == none) continue;
    const double here = vacuum(i);
    readings.push_back({i, here, line::current_at(line.elements[i], line.site, line.site.pressure - here)});
  }
  return readings;
}

/// The source that an element hangs on.
std::size_t source_of(const line::Topology& topology, std::size_t element) {
  while (topology.before[element] != none) element = topology.before[element];
  return element;
}

/// Whether air can get from one element to another in what is left of a line. Both are left.
bool joined(const line::Capped& capped, std::size_t a, std::size_t b) {
  const line::Topology left = line::topology(capped.line, false);
  std::vector<std::size_t> net(capped.line.elements.size());
  std::iota(net.begin(), net.end(), std::size_t{0});
  const auto root = [&](std::size_t i) {
    while (net[i] != i) i = net[i] = net[net[i]];
    return i;
  };
  const auto unite = [&](std::size_t i, std::size_t j) { net[root(i)] = root(j); };
  for (std::size_t i = 0; i < net.size(); ++i) {
    if (left.before[i] != none) unite(i, left.before[i]);
    if (left.joined[i] != none) unite(i, left.joined[i]);
  }
  return root(capped.index[a]) == root(capped.index[b]);
}

const StripReading* at(const std::vector<StripReading>& readings, std::size_t element) {
  const auto found =
      std::find_if(readings.begin(), readings.end(), [&](const StripReading& r) { return r.at == element; });
  return found == readings.end() ? nullptr : &*found;
}

/// Whether the judging instrument tells two readings at one element apart. Where none is there, a usual gauge is held
/// to it.
bool shows(const line::Line& line, const Strip& strip, const StripReading& without, const StripReading& with) {
  const line::Element& e = line.elements[with.at];
  if (strip.by_current && with.at == strip.judge && with.current && without.current)
    return std::abs(*without.current - *with.current) > line::least_shown(line::ammeter_step(e));
  return std::abs(without.vacuum - with.vacuum) > line::least_shown(line::gauge_step(e));
}

/// Where the line forks, each branch off by itself. What is plugged is no branch, nor is a nozzle by itself: blocking
/// its mouth, which is a step, does the same for it, and a hole in a plate can't be taken off.
void take_branches_off(const line::Line& line, const line::Topology& topology, Strip& result) {
  const auto forks = [&](std::size_t i) {
    const std::size_t before = topology.before[i];
    return before != none && topology.beyond[before].size() > 1 && line.elements[i].kind != line::Kind::plug &&
           line.elements[i].kind != line::Kind::nozzle;
  };
  const std::vector<std::size_t> order = outwards(line, topology);
  if (std::none_of(order.begin(), order.end(), forks)) return;
  const line::Capped whole = line::without(line, topology, std::vector<std::size_t>());
  result.whole = read(line, whole, solved(line, whole, result.tips, none));
  for (const std::size_t i : order) {
    if (!forks(i)) continue;
    const line::Capped less = line::without(line, topology, i);
    StripBranch branch{i, read(line, less, solved(line, less, result.tips, none)), 0.0};
    const StripReading *a = at(branch.readings, result.judge), *b = at(result.whole, result.judge);
    if (a && b) branch.change = a->vacuum - b->vacuum;
    result.branches.push_back(std::move(branch));
  }
}

}  // namespace

Strip strip(const line::Line& line, std::span<const TipState> tips) {
  const line::Topology topology = line::topology(line);
  Strip result;
  result.tips.assign(tips.begin(), tips.end());
  std::size_t first_gauge = none, first_source = none, sources = 0;
  for (std::size_t i = line.elements.size(); i-- > 0;) {
    if (line.elements[i].gauge) first_gauge = i;
    if (line::is_source(line.elements[i].kind)) first_source = i, ++sources;
  }
  result.judge = first_gauge != none ? first_gauge : first_source;
  result.by_current = first_gauge == none && !line.elements[first_source].pump->current.empty();
  result.assumed_gauge = first_gauge == none && !result.by_current;

  std::vector<bool> merged(line.elements.size(), false);  // by a join, on either side
  for (std::size_t i = 0; i < merged.size(); ++i)
    if (topology.joined[i] != none) merged[i] = merged[topology.joined[i]] = true;

  std::vector<std::size_t> step_of(line.elements.size(), none);
  double biggest = 0.0;
  for (std::size_t i : outwards(line, topology)) {
    if (line.elements[i].kind == line::Kind::plug) continue;
    StripStep step;
    step.cap = i;
    const line::Capped capped = line::cap(line, topology, i);
    const solve::SteadyAnswer answer = solved(line, capped, tips, i);
    step.end = answer.elements[capped.index[i]].vacuum;
    step.leak = answer.elements[capped.index[i]].leak;
    step.readings = read(line, capped, answer);
    const std::size_t before = topology.before[i];
    step.before = before == none ? result.steps.size() : step_of[before];
    step.judge = result.judge;
    if (before != none) {
      // Compared with the same line less this element. On a line without forks that is the step before; behind a fork
      // the other branches are on in both.
      const bool only = topology.beyond[before].size() == 1 && !merged[before];
      if (only) {
        step.without = result.steps[step_of[before]].readings;
      } else {
        const line::Capped less = line::without(line, topology, i);
        step.without = read(line, less, solved(line, less, tips, i));
      }
      // Where the gauge is not on the line yet, or on another that is not joined to this one, the vacuum of the source
      // stands in for it.
      const bool reads = at(step.readings, result.judge) && at(step.without, result.judge);
      const bool sees = reads && (sources == 1 || joined(capped, i, result.judge));
      step.judge = sees ? result.judge : source_of(topology, i);
      const StripReading* a = at(step.without, step.judge);
      const StripReading* b = at(step.readings, step.judge);
      if (a && b) step.change = a->vacuum - b->vacuum;
      // A step that the instrument can't show is no finding.
      if (a && b && step.change > biggest && shows(line, result, *a, *b)) {
        biggest = step.change;
        result.culprit = i;
      }
    }
    step_of[i] = result.steps.size();
    result.steps.push_back(std::move(step));
  }
  take_branches_off(line, topology, result);
  return result;
}

}  // namespace airtally::study
