#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/answer.hpp"

namespace airtally::study {

/// What a line is judged by.
enum class Objective {
  tip_vacuum,  ///< vacuum at the tip
  hold,        ///< vacuum at the tip beyond what the part needs, at its widest gap; a tip with a part on is judged
  settle       ///< time until the tip has the vacuum that it settles at today
};

/// What one element costs. Gains are what the objective's tip would win; a gain below zero is a loss.
struct ElementCost {
  std::size_t element = 0;        ///< index into the line
  double leak = 0.0;              ///< all its leaks at rest [kg/s]
  double leak_share = 0.0;        ///< of all leaks of the line [-], 0 to 1; 0 when there are none
  double leak_gain = 0.0;         ///< vacuum won if its leaks were gone [Pa]
  double restriction_gain = 0.0;  ///< vacuum won if its restriction were gone [Pa]
  double fair_share = 0.0;        ///< its part of the whole loss (Shapley) [Pa]
  double fair_share_error = 0.0;  ///< standard error of that where it was sampled; 0 when exact [Pa]
  /// Settle time won if leaks and restriction were gone, each line to its own final vacuum [s]; 0 when not asked for.
  double settle_gain = 0.0;
  double reach_gain = 0.0;  ///< time won until the tip has 95 % of today's final vacuum [s]; 0 when not asked for
};

/// The air that comes in at the parts, where that is most of it and no element costs the tip as much.
struct AtParts {
  double flow = 0.0;           ///< under and through them [kg/s]
  double all = 0.0;            ///< that all sources take [kg/s]
  double sealed_vacuum = 0.0;  ///< vacuum at the tip if they sealed [Pa]
  bool through = false;        ///< most of it comes through porous parts, where no smaller gap keeps it out
};

/// A line's elements by what they cost.
struct Ranking {
  Objective objective = Objective::tip_vacuum;  ///< by which they are ranked
  std::size_t nozzle = 0;       ///< whose tip is judged: index into the nozzles; the weakest one unless named
  std::size_t tip_element = 0;  ///< its element, an index into the line
  solve::TipState tip = solve::TipState::open;  ///< its state
  std::vector<ElementCost> elements;            ///< all of the line, worst first
  double tip_vacuum = 0.0;                      ///< as the line is [Pa]
  double ideal_vacuum = 0.0;  ///< with every leak and restriction gone, the pump straight behind the tip [Pa]
  double total_loss = 0.0;    ///< the difference; the fair shares add up to it [Pa]
  double settle = 0.0;        ///< settle time of that tip as the line is [s]; 0 when settle gains were not asked for
  std::optional<double> needed_vacuum;  ///< what the part and its moves need, when there is one [Pa]
  /// At the tip with the widest gap under the part, by which hold() judges [Pa]; none where no part that needs vacuum
  /// is on that tip and closes it.
  std::optional<double> least_vacuum;
  std::optional<AtParts> at_parts;  ///< none: most air comes in elsewhere, or sealing the parts wins no more
  /// A valve that stands closed or at vent between the tip and its source, an index into the line: nothing beyond it
  /// costs anything before it opens. The one nearest to the tip; none: the way is open.
  std::optional<std::size_t> shut;
  double source_vacuum = 0.0;  ///< the deepest at any source, as the line is [Pa]
  /// With the objective hold: why the part can't close that tip (seat.hpp), whatever vacuum the line brings there;
  /// empty: it can.
  std::string why_not_closed;
  std::size_t players = 0;         ///< leaks and restrictions that share the loss
  bool exact = true;               ///< every coalition was solved; otherwise orders were sampled
  std::size_t solves = 0;          ///< combinations solved
  std::vector<std::string> notes;  ///< how the shares were found where it was not exactly, a sentence each
  double under_parts = 0.0;        ///< what comes in between the rims and the parts on them, of all tips [kg/s] >= 0
  double through_parts = 0.0;      ///< what comes in through porous parts, of all tips [kg/s] >= 0
};

/// More players than this and the fair share is sampled.
inline constexpr std::size_t exact_players = 12;

/// How a line is ranked.
struct RankOptions {
  Objective objective = Objective::tip_vacuum;  ///< by which it is judged
  std::optional<std::size_t> nozzle;  ///< index into the nozzles; none: the weakest tip, or that with least to spare
  bool settle_gains = true;           ///< they cost a pull-down or two per element; always with Objective::settle
  std::uint64_t seed = 1;             ///< of the sampled orders
  std::size_t orders = 2000;          ///< number of sampled orders above `exact` players, four at least
  std::size_t exact = exact_players;  ///< players up to which every combination is solved, most_exact at most
};

/// Ranks the elements by what they cost. Players are every element's leaks, and every element's restriction but the
/// passages of the other nozzles and that of an open one, which are the load and not a loss. `tips`: one state per
/// nozzle; by hold all are `part` where none is. Throws BadInput, DomainError (over `most_exact` players),
/// NoConvergence.
Ranking rank(const line::Line& line, std::span<const solve::TipState> tips, const RankOptions& options = {});

}  // namespace airtally::study
