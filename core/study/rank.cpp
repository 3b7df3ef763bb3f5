#include "study/rank.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "line/seat.hpp"
#include "line/shut_valve.hpp"
#include "line/variant.hpp"
#include "study/coalition.hpp"
#include "study/hold.hpp"
#include "study/need.hpp"
#include "study/rank_private.hpp"
#include "study/rise.hpp"

namespace airtally::study {
namespace {

using solve::TipState;

/// Per tip what its part needs to be held [Pa], where that is asked; a tip without one has nothing to hold.
std::vector<double> needs_of(const line::Line& line, const solve::SteadyAnswer& now, Objective objective) {
  if (objective != Objective::hold) return {};
  constexpr double not_asked = -1e300;
  std::vector<double> needs = needs_of_moves(line);
  for (std::size_t k = 0; k < needs.size(); ++k)
    if (now.tips[k].state != TipState::part) needs[k] = not_asked;
  return needs;
}

constexpr double much = 0.05;  ///< of the tip's vacuum: what sealing the parts must gain to be told of; no source

/// What comes in at the parts, under them and through them.
void tell_apart(const solve::Network& network, const solve::Evaluation& evaluation, Ranking& ranking) {
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    if (network.paths[k].role != solve::Role::seal || network.paths[k].mode != solve::Mode::active) continue;
    const bool under = std::holds_alternative<laws::FaceGap>(network.paths[k].law);
    (under ? ranking.under_parts : ranking.through_parts) += std::max(evaluation.flow[k].m, 0.0);
  }
}

/// What comes in at the parts and what the tip would have if they sealed, where most of the air comes in there; else
/// nothing. `through`: most of it comes through them.
std::optional<AtParts> at_parts(const line::Line& line, const line::Topology& topology, const solve::SteadyAnswer& now,
                                bool through, std::size_t nozzle) {
  AtParts parts;
  std::vector<TipState> sealed;
  for (const solve::Tip& tip : now.tips) {
    if (tip.state == TipState::part) parts.flow += tip.flow;
    sealed.push_back(tip.state == TipState::part ? TipState::blocked : tip.state);
  }
  for (const auto& source : now.sources) parts.all += source.flow;
  if (!(parts.flow > 0.5 * parts.all)) return {};
  const solve::Network tight(line, topology, sealed);
  solve::Steady solver(tight);
  solve::Pressures x;
  const solve::SteadyReport report = solver.solve(tight, x);
  parts.sealed_vacuum =
      solve::read_off(line, topology, tight, x, solver.evaluation(), report).tips[nozzle].tip_vacuum();
  parts.through = through;
  return parts;
}

/// The line with one element made perfect. A nozzle's gap under the part is the part's and not the nozzle's, and goes
/// on leaking.
line::Line mended(const line::Line& line, const std::vector<Flaw>& flaws, std::size_t element) {
  line::Line better = line;
  for (const Flaw& flaw : flaws) {
    if (flaw.element != element) continue;
    if (flaw.leak)
      line::seal(better.elements[element]);
    else
      line::clear_way(better.elements[element]);
  }
  return better;
}

double worth(const ElementCost& cost, Objective objective) {
  return objective == Objective::settle ? cost.reach_gain : cost.fair_share;
}

}  // namespace

std::vector<TipState> holding_tips(std::span<const TipState> asked) {
  std::vector<TipState> tips(asked.begin(), asked.end());
  if (std::find(tips.begin(), tips.end(), TipState::part) == tips.end())
    std::fill(tips.begin(), tips.end(), TipState::part);
  return tips;
}

Ranking rank(const line::Line& given, std::span<const TipState> asked, const RankOptions& options) {
  const bool holding = options.objective == Objective::hold;
  const std::vector<TipState> tips = holding ? holding_tips(asked) : std::vector(asked.begin(), asked.end());
  // By the widest gap hold() judges too.
  const line::Line line = holding ? line::at_widest_gap(given) : given;

  const line::Topology topology = line::topology(line);
  const solve::Network network(line, topology, tips);
  solve::Steady solver(network);
  solve::Pressures x;
  const solve::SteadyReport report = solver.solve(network, x);
  const solve::SteadyAnswer now = solve::read_off(line, topology, network, x, solver.evaluation(), report);

  Ranking ranking;
  ranking.objective = options.objective;
  ranking.nozzle = options.nozzle ? *options.nozzle : weakest_tip(now, needs_of(line, now, options.objective));
  const solve::Tip& tip = now.tips[ranking.nozzle];
  if (holding && tip.state != TipState::part)
    throw BadInput({line.file, 0, 0}, fmt::format("'{}' is to have no part on, so there is nothing for it to hold.",
                                                  line.elements[tip.element].name));
  ranking.tip_element = tip.element;
  ranking.tip = tip.state;
  ranking.tip_vacuum = tip.tip_vacuum();
  ranking.shut = line::shut_valve(line, topology, tip.element);
  for (const auto& source : now.sources) ranking.source_vacuum = std::max(ranking.source_vacuum, source.vacuum);
  if (line.part && line.part->mass.value > 0.0) ranking.needed_vacuum = needed_vacuum(line, tip.element).to_travel;

  const std::string open = tip.state == TipState::part ? line::why_not_closed(line, tip.element) : "";
  if (holding) ranking.why_not_closed = open;
  if (tip.state == TipState::part && open.empty() && ranking.needed_vacuum)
    ranking.least_vacuum = line.part->gap.is_exact()
                               ? ranking.tip_vacuum
                               : solve::steady(line::at_widest_gap(line), tips).tips[ranking.nozzle].tip_vacuum();

  Coalitions coalitions(network, topology, flaws_of(line, network, ranking.nozzle), ranking.nozzle);
  const std::vector<Flaw>& flaws = coalitions.flaws();
  const std::size_t n = flaws.size();
  ranking.players = n;
  std::vector<bool> all(n, true);
  coalitions.vacuum(all);

  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    ElementCost cost;
    cost.element = i;
    cost.leak = now.elements[i].leak;
    ranking.elements.push_back(cost);
  }
  double leaks = 0.0;
  for (const ElementCost& cost : ranking.elements) leaks += cost.leak;
  for (ElementCost& cost : ranking.elements) cost.leak_share = leaks > 0.0 ? cost.leak / leaks : 0.0;

  for (std::size_t f = 0; f < n; ++f) {
    std::vector<bool> without = all;
    without[f] = false;
    const double gain = coalitions.vacuum(without) - ranking.tip_vacuum;
    ElementCost& cost = ranking.elements[flaws[f].element];
    (flaws[f].leak ? cost.leak_gain : cost.restriction_gain) = gain;
  }
  ranking.ideal_vacuum = coalitions.vacuum(std::vector<bool>(n, false));
  ranking.total_loss = ranking.ideal_vacuum - ranking.tip_vacuum;

  const FairShares shares =
      n <= options.exact ? exact_shares(coalitions) : sampled_shares(coalitions, options.orders, options.seed);
  ranking.exact = shares.exact;
  for (std::size_t f = 0; f < n; ++f) {
    ElementCost& cost = ranking.elements[flaws[f].element];
    cost.fair_share += shares.share[f];
    // The two shares of one element are sampled together; their errors add at worst.
    cost.fair_share_error += shares.error[f];
  }
  ranking.solves = coalitions.solves();

  tell_apart(network, solver.evaluation(), ranking);
  const bool through = ranking.through_parts > ranking.under_parts;
  if (const auto parts = at_parts(line, topology, now, through, ranking.nozzle)) {
    double most = 0.0;
    for (const ElementCost& cost : ranking.elements) most = std::max({most, cost.leak_gain, cost.restriction_gain});
    if (parts->sealed_vacuum - ranking.tip_vacuum > std::max(most, much * ranking.tip_vacuum)) ranking.at_parts = parts;
  }
  if (options.settle_gains || options.objective == Objective::settle) {
    const Rise today = rise(line, tips, {{}, 2});
    const double level = 0.95 * ranking.tip_vacuum;
    // Differences of two runs need no finer tubes than this; the rise itself has as many as it takes.
    const int segments = std::min(today.segments, 4);
    const Timing base = timing(line, tips, ranking.nozzle, level, segments);
    ranking.settle = today.tips[ranking.nozzle].settle;
    for (ElementCost& cost : ranking.elements) {
      const bool same =
          std::none_of(flaws.begin(), flaws.end(), [&](const Flaw& f) { return f.element == cost.element; });
      if (same) continue;
      const line::Line better = mended(line, flaws, cost.element);
      const Timing then = timing(better, tips, ranking.nozzle, level, segments);
      cost.settle_gain = base.settle - then.settle;
      if (base.reach && then.reach) cost.reach_gain = *base.reach - *then.reach;
    }
  }

  std::stable_sort(ranking.elements.begin(), ranking.elements.end(), [&](const ElementCost& a, const ElementCost& b) {
    return worth(a, options.objective) > worth(b, options.objective);
  });
  if (!ranking.exact)
    ranking.notes.push_back(
        fmt::format("{} leaks and restrictions share the loss, more than the {} whose every combination is "
                    "solved; the fair shares come from {} random orders (seed {}).",
                    n, options.exact, shares.orders, options.seed));
  return ranking;
}

}  // namespace airtally::study
