// A step past a fork is read with the other branches on: what it shows may be theirs.
#include <algorithm>
#include <cmath>

#include "hunt/readings/contradictions_private.hpp"
#include "hunt/readings/in_doubt_private.hpp"
#include "line/variant.hpp"

namespace airtally::hunt {
namespace {

using Set = std::vector<bool>;  // per element of the line

constexpr double alike = 0.5;     ///< as much as another; no source
constexpr double nothing = 0.25;  ///< of what would show; no source

bool within(const Set& small, const Set& big) {
  for (std::size_t i = 0; i < small.size(); ++i)
    if (small[i] && !big[i]) return false;
  return true;
}

std::ptrdiff_t size(const Set& set) { return std::count(set.begin(), set.end(), true); }

/// What is on the line at each step that was read, and what came on with it since the step it is compared with.
struct On {
  std::vector<Set> at, added;  ///< per reading of a step
  std::vector<Set> without;    ///< per reading of the line without some branches, or whole
};

On on_line(const line::Line& line, const study::Strip& strip, const BesideAll& all) {
  const std::vector<Beside>& list = all.list;
  const line::Topology topology = line::topology(line);
  const auto kept = [&](std::size_t step) {
    const line::Capped left = line::cap(line, topology, strip.steps[step].cap);
    Set set;
    for (const std::size_t i : left.index) set.push_back(i != line::none);
    return set;
  };
  On on;
  for (const Beside& b : list) {
    on.at.push_back(kept(b.step));
    Set added = on.at.back();
    if (b.compared) {
      const Set from = kept(b.from);
      for (std::size_t i = 0; i < added.size(); ++i) added[i] = added[i] && !from[i];
    }
    on.added.push_back(std::move(added));
  }
  for (const BesideBranch& b : all.branches) {
    Set set;
    for (const std::size_t i : line::without(line, topology, b.off).index) set.push_back(i != line::none);
    on.without.push_back(std::move(set));
  }
  return on;
}

/// `added`, less what others of the same instrument clear; nothing where they can't be explained by one element.
Set narrowed(const BesideAll& all, const On& on, std::size_t worst) {
  const Beside& told = all.list[worst];
  const double own = told.read - told.predicted - told.surprise;  // of what it is compared with
  Set left = on.added[worst];
  bool one = true;
  const auto look_at = [&](const auto& b, const Set& there) {
    // With more air coming in elsewhere there is less vacuum to drive a leak, and it shows less.
    const bool gauge = is_gauge(told.instrument) && told.predicted > 0.0;
    const double shows = told.surprise * (gauge ? std::clamp(b.predicted / told.predicted, 0.0, 1.0) : 1.0);
    if (std::fabs(shows) < 6.0 * b.noise) return;  // it could not tell: half of it is three deviations
    const double share = (b.read - b.predicted - own) / shows;
    one = one && share <= 1.0 + alike;  // else something else besides
    if (share > nothing && share < alike) return;
    for (std::size_t e = 0; e < left.size(); ++e)
      if (there[e] != (share >= alike)) left[e] = false;
  };
  for (std::size_t i = 0; i < all.list.size(); ++i)
    if (same_instrument(all.list[i], told)) look_at(all.list[i], on.at[i]);
  for (std::size_t i = 0; i < all.branches.size(); ++i)
    if (all.branches[i].instrument == told.instrument && all.branches[i].at == told.at)
      look_at(all.branches[i], on.without[i]);
  return one ? left : Set{};
}

}  // namespace

InDoubt in_doubt(const line::Line& line, const study::Strip& strip, const BesideAll& all, std::size_t worst,
                 double beyond) {
  const std::vector<Beside>& list = all.list;
  const On on = on_line(line, strip, all);
  std::size_t told = worst;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const Beside& b = list[i];
    if (!b.compared || !same_instrument(b, list[worst]) || b.surprise * list[worst].surprise <= 0.0) continue;
    if (std::fabs(b.surprise) <= beyond * std::sqrt(2.0) * b.noise) continue;
    if (std::fabs(b.surprise) < alike * std::fabs(list[worst].surprise)) continue;
    if (size(on.added[i]) < size(on.added[told]) && within(on.added[i], on.added[worst])) told = i;
  }
  Set doubted = on.added[told];
  if (size(doubted) > 1)
    if (const Set less = narrowed(all, on, told); size(less) > 0) doubted = less;
  InDoubt found{told, {}};
  for (std::size_t e = 0; e < doubted.size(); ++e)
    if (doubted[e]) found.elements.push_back(e);
  return found;
}

}  // namespace airtally::hunt
