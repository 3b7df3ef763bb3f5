#pragma once
#include <cstdint>
#include <functional>
#include <limits>
#include <span>
#include <vector>

#include "line/uncertain.hpp"
#include "study/influence.hpp"
#include "study/parallel.hpp"
#include "study/quasi_random.hpp"

/// How sure is an answer, when the file is not sure of its values?
namespace airtally::study {

/// What an answer has where it has no such number.
inline constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
/// A time that does not come.
inline constexpr double never = std::numeric_limits<double>::infinity();

/// Where a number lies, in its own unit.
struct Band {
  double median = 0.0;  ///< half of the values are below it
  double low = 0.0;     ///< 5 % of the values are below it
  double high = 0.0;    ///< 95 % of the values are below it
};

/// The band of some values; those that are not numbers are left out. Between two neighbours of the sorted values it
/// runs straight (Hazen: the k-th of n stands at (k - 1/2)/n). All 0 when there are none. A time that does not come is
/// the longest of all: where it takes part, an end of the band is `never`.
Band band_of(std::vector<double> values);

/// How many lines are drawn, and how.
struct SampleOptions {
  std::size_t samples = 512;  ///< lines drawn, > 0; a power of two makes the best use of the points
  std::uint64_t seed = 1;     ///< of the points; the same seed, the same lines
  unsigned threads = 2;       ///< that work on it; 0 counts as 1
  bool influence = true;      ///< also say which input matters; costs another samples/4, 16 at least, for every input
  Progress progress = {};     ///< told of pieces done; may be empty
};

/// Answers of a model for lines drawn from what the file says.
struct Bands {
  std::vector<line::Uncertain> inputs;      ///< what was drawn, in the order of line::uncertain(); may be empty
  std::vector<std::vector<double>> values;  ///< per output, per sample [SI]; NaN where a sample has no such number
  std::vector<Band> bands;                  ///< per output [SI]; `never` where too many samples have that
  std::vector<std::vector<Influence>> influence;  ///< per output, per input; empty when not asked for
  std::size_t samples = 0;                        ///< lines drawn, the failed ones too
  std::size_t failed = 0;                         ///< samples that could not be solved: in no band
  std::uint64_t seed = 1;                         ///< as asked
};

/// The numbers [SI] that a line is asked for, written to `out`, as many as there are outputs; NaN for none, `never` for
/// a time that does not come. Called from several threads at once; must depend on the line alone.
using LineModel = std::function<void(const line::Line& line, std::span<double> out)>;

/// Values that bands can draw: two coordinates of a QuasiRandom each.
inline constexpr std::size_t most_inputs = QuasiRandom::most_dimensions / 2;

/// Throws BadInput where `inputs` are more than that; `file` is the one that has them, empty for several.
void check_inputs(std::size_t inputs, const std::string& file = {});

/// Draws `options.samples` lines and asks each for `outputs` numbers. A sample that can't be solved, or is outside what
/// a law or a schedule takes, is counted and left out. Throws BadInput for more than `most_inputs` values, what the
/// model throws when no sample at all can be solved, and NoConvergence when that is the solver's giving up.
Bands bands(const line::Line& line, std::size_t outputs, const LineModel& model, const SampleOptions& options = {});

}  // namespace airtally::study
