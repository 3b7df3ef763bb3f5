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
#include "study/question.hpp"

/// Variants of a line side by side: in what they differ, in the file and in every result, and which is better for what.
namespace airtally::study {

/// A line under a name.
struct Variant {
  std::string name;
  line::Line line;
};

/// A number by which variants are compared.
struct Result {
  std::string_view key;    ///< as in JSON: "margin_pa"
  std::string_view words;  ///< "to spare"
  Quality quality = Quality::vacuum;
  bool more = true;   ///< more of it is better; false: less is
  bool ranks = true;  ///< makes a variant better or worse; false: only tells of it
};

/// Everything that is compared. Of several nozzles the weakest, the slowest, the least.
std::span<const Result> results();
/// Index into results() of a key that is there.
std::size_t result_of(std::string_view key);

struct VariantAnswer {
  /// Per result. Not a number: the question does not arise, as the file has no [part], [cycle] or [sensor]. Infinite:
  /// never, as a lift that is never safe.
  std::vector<double> values;
  std::optional<std::size_t> culprit;  ///< the element that costs the tip most
  double culprit_share = 0.0;          ///< its fair share [Pa]
  std::optional<bool> tells;           ///< the sensor tells held from missed
  int segments = 1;                    ///< pieces that its long tubes are cut into where time counts
};

/// Time from the start of the pumps at ambient until every tip, in its usual state, has that vacuum [Pa]; infinite when
/// one never has it [s].
double reach_time(const line::Line& line, double vacuum, int segments, solve::Thermal thermal);

/// What one may want of a line.
enum class Aim { holding, speed, sensing };
/// "holding", "speed", "sensing".
std::string_view word(Aim aim);

/// Who is best for an aim.
struct Judgement {
  Aim aim = Aim::holding;
  std::size_t result = 0;  ///< by which it is judged: the first of a few that all variants have
  std::size_t best = 0;    ///< variant
  std::size_t next = 0;    ///< the second best
  bool alike = false;      ///< the best is not more than 1 % (or 10 Pa, 0.1 ms) ahead of the worst
};

struct Comparison {
  std::vector<VariantAnswer> variants;
  std::vector<line::Difference> differences;
  std::vector<Judgement> judgements;
  /// 95 % of the least vacuum that any variant settles at [Pa]: how fast they get there can be compared, other than how
  /// fast each settles at a vacuum of its own.
  double common_vacuum = 0.0;
};

/// Whether value `a` of a result is better than `b` by more than a solver's tolerance (1e-6 of the larger). Never is
/// worse than any number; what does not arise is neither better nor worse.
bool better(const Result& result, double a, double b);

struct CompareOptions {
  solve::Thermal thermal = solve::Thermal::wall;
  unsigned threads = 2;
  Progress progress = {};
};

/// Asks every variant everything that its file allows, as steady, hold, rise, cycle, rank and sense would. Throws
/// BadInput, also for fewer than two variants and for one without a nozzle; NoConvergence.
Comparison compare(std::span<const Variant> variants, const CompareOptions& options = {});

/// Variants drawn together: what is called the same in several of them is drawn the same.
struct CompareBands {
  std::vector<line::Uncertain> inputs;  ///< as the first variant that has it states it
  std::vector<std::size_t> drawn;       ///< the results that were drawn: indices into results()
  /// Per drawn result, per variant, per sample: as VariantAnswer::values; not a number also where a solver gave up.
  std::vector<std::vector<std::vector<double>>> values;
  /// Per variant, per element: share of the samples in which it costs the tip most; empty when not drawn.
  std::vector<std::vector<double>> worst;
  /// Per input: what it matters to the difference between best and second best by the first judgement; empty: nothing
  /// judged was drawn.
  std::vector<Influence> influence;
  std::size_t samples = 0, failed = 0;
  std::uint64_t seed = 1;

  /// Share of the samples in which variant `a` is better than `b`, of those in which both have a number.
  double beats(std::size_t drawn_result, std::size_t a, std::size_t b) const;
  /// Share of the samples in which no other variant that is asked for it is better; those who are best together share
  /// it. None when fewer than two are asked for it.
  std::optional<double> best(std::size_t drawn_result, std::size_t variant) const;
};

/// `all`: also what costs hundreds of solves. Nothing is unsure: no samples.
CompareBands compare_bands(std::span<const Variant> variants, const Comparison& comparison, bool all,
                           const SampleOptions& samples, const CompareOptions& options = {});

/// Steady solves of one sample of all variants, by a rough count.
double compare_cost(std::span<const Variant> variants, bool all);

/// The values of which compare_bands() would draw.
std::vector<line::Uncertain> compare_inputs(std::span<const Variant> variants, bool all);

}  // namespace airtally::study
