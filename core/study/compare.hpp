#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "line/difference.hpp"
#include "line/line.hpp"
#include "solve/line_system.hpp"
#include "study/bands.hpp"
#include "study/cycle.hpp"
#include "study/question.hpp"

/// Variants of a line side by side: in what they differ, in the file and in every result, and which is better for what.
namespace airtally::study {

/// A line under a name.
struct Variant {
  std::string name;  ///< for sentences
  line::Line line;   ///< with all that it is asked about
};

/// A number by which variants are compared.
struct Result {
  std::string_view key;               ///< as in JSON, unit and all: "margin_pa"
  std::string_view words;             ///< "to spare"
  Quality quality = Quality::vacuum;  ///< what it measures
  bool more = true;                   ///< more of it is better; false: less is
  bool ranks = true;                  ///< makes a variant better or worse; false: only tells of it
};

/// Everything that is compared, in SI. Of several nozzles the weakest, the slowest, the least.
std::span<const Result> results();
/// Index into results() of a key that is there. Throws DomainError for any other.
std::size_t result_of(std::string_view key);

/// What one variant answers.
struct VariantAnswer {
  /// Per result [SI]. Not a number: the question does not arise, as the file has no [part], [cycle] or [sensor].
  /// Infinite: never, as a lift that is never safe.
  std::vector<double> values;
  /// The element that costs the tip most, an index into the line; none: nothing does.
  std::optional<std::size_t> culprit;
  double culprit_share = 0.0;       ///< its fair share [Pa] >= 0
  std::optional<bool> cycle_works;  ///< CycleAnswer::works(), so at the widest gap too; none: no [cycle] or no [part]
  /// The least margin_at_lift at the widest gap [Pa]; none: not asked, or the file is sure of it.
  std::optional<double> widest_at_lift;
  std::optional<double> widest_in_travel;  ///< the same of margin_in_travel
  /// The sensor tells held from missed, in the pick too; none, as for the three below: no [sensor] or no [part].
  std::optional<bool> tells;
  std::optional<bool> tells_at_rest;           ///< the same with the line at rest alone
  std::optional<bool> tells_set_best_at_rest;  ///< as `tells_at_rest`, were a switch set as suits its line best
  std::optional<bool> tells_set_best;  ///< in the pick too, were a switch set as suits its line best; else as `tells`
  int segments = 1;                    ///< pieces that its long tubes are cut into where time counts
};

/// What a cycle is compared by: of its heads the worst for each.
struct PickResults {
  double wait = 0.0;              ///< from touch to the safe lift [s] >= 0; infinite: never safe
  double margin_at_lift = never,  ///< as HeadCycle has it [Pa]; infinite without heads
      margin_in_travel = never;   ///< the same
};
/// Of heads judged by cycle(). The delays of a schedule are no one's merit, so lifts are counted from touch, as by
/// CycleAnswer::slowest.
PickResults pick_results(std::span<const HeadCycle> heads);

/// Time [s] from the start of the pumps at ambient until every tip, in its usual state, has `vacuum` [Pa]; infinite
/// when one never has it. `segments`: pieces of long tubes. Throws BadInput, NoConvergence.
double reach_time(const line::Line& line, double vacuum, int segments, solve::Thermal thermal);

/// What one may want of a line.
enum class Aim {
  holding,  ///< most to spare for the moves, else most vacuum
  speed,    ///< soonest safe lift after touch, else soonest at a common vacuum
  sensing   ///< a sensor that tells held from missed best
};
/// "holding", "speed", "sensing".
std::string_view word(Aim aim);

/// Who is best for an aim.
struct Judgement {
  Aim aim = Aim::holding;  ///< what is wanted
  /// By which it is judged, an index into results(): the first of a few that all variants have. Sensing, where none
  /// tells as it is set: with every switch set as suits its line best.
  std::size_t result = 0;
  std::size_t best = 0;            ///< index of the variant, the first of those that have most to the last digit
  std::vector<std::size_t> level;  ///< all that the best is not ahead of, itself included; in the order given
  std::size_t next = 0;            ///< index of the best of the others; of the second best where there are none
  bool alike = false;              ///< the best is ahead of none
};

/// Variants side by side.
struct Comparison {
  std::vector<VariantAnswer> variants;        ///< in the order given
  std::vector<line::Difference> differences;  ///< in what their files differ
  std::vector<Judgement> judgements;          ///< one per aim that all of them can be judged by, in the order of Aim
  /// 95 % of the least vacuum that any variant settles at [Pa]: how fast they get there can be compared, other than how
  /// fast each settles at a vacuum of its own.
  double common_vacuum = 0.0;
};

/// Whether value `a` of a result is better than `b` by more than a solver's tolerance (1e-6 of the larger). Never is
/// worse than any number; what does not arise is neither better nor worse.
bool better(const Result& result, double a, double b);

/// Whether `a` and `b` differ by so little that neither is worth calling the better: 1 % of the larger, or 10 Pa,
/// 0.1 ms, 0.05 deviations. Never is level with never alone, what does not arise with nothing.
bool level(const Result& result, double a, double b);

/// How variants are asked.
struct CompareOptions {
  solve::Thermal thermal = solve::Thermal::wall;  ///< in pull-downs and cycles
  unsigned threads = 2;                           ///< that work on it; 0 counts as 1
  Progress progress = {};                         ///< told of variants done; may be empty
};

/// Asks every variant everything that its file allows, as steady, hold, rise, cycle, rank and sense would. Throws
/// BadInput, also for fewer than two variants and for one without a nozzle; NoConvergence.
Comparison compare(std::span<const Variant> variants, const CompareOptions& options = {});

/// Variants drawn together: what is called the same in several of them is drawn the same.
struct CompareBands {
  std::vector<line::Uncertain> inputs;  ///< as the first variant that has it states it
  std::vector<std::size_t> drawn;       ///< the results that were drawn: indices into results()
  /// Per drawn result, per variant, per sample [SI]: as VariantAnswer::values; not a number also where a solver gave
  /// up.
  std::vector<std::vector<std::vector<double>>> values;
  /// Per variant, per element: share of the samples in which it costs the tip most [-]; no elements when not drawn.
  std::vector<std::vector<double>> worst;
  /// Per input: what it matters to the difference between best and second best by the first judgement; empty: nothing
  /// judged was drawn.
  std::vector<Influence> influence;
  std::size_t samples = 0,  ///< lines drawn of each variant; 0: nothing is unsure
      failed = 0;           ///< those in which a solver gave up for some variant
  std::uint64_t seed = 1;   ///< as asked

  /// Share [-] of the samples in which variant `a` is better than `b`, of those in which both have a number; 0 when
  /// there are none. `drawn_result`: index into `drawn`.
  double beats(std::size_t drawn_result, std::size_t a, std::size_t b) const;
  /// Share [-] of the samples in which no other variant that is asked for it is better; those who are best together
  /// share it. None when fewer than two are asked for it.
  std::optional<double> best(std::size_t drawn_result, std::size_t variant) const;
  /// Share [-] of the samples in which one of these `variants` is best; none when one of them is not asked for it.
  std::optional<double> best_of(std::size_t drawn_result, std::span<const std::size_t> variants) const;
};

/// `comparison`: compare() of the same variants. `all`: also what costs hundreds of solves. Nothing is unsure: no
/// samples. Throws BadInput, and NoConvergence when not one sample converges.
CompareBands compare_bands(std::span<const Variant> variants, const Comparison& comparison, bool all,
                           const SampleOptions& samples, const CompareOptions& options = {});

/// Steady solves of one sample of all variants, by a rough count [-].
double compare_cost(std::span<const Variant> variants, bool all);

/// The values of which compare_bands() would draw, in the order of the first variant that has each.
std::vector<line::Uncertain> compare_inputs(std::span<const Variant> variants, bool all);

}  // namespace airtally::study
