#pragma once
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "line/uncertain.hpp"
#include "study/influence.hpp"
#include "study/parallel.hpp"

/// How sure is an answer, when the file is not sure of its values?
namespace airtally::study {

/// Where a number lies: its median, and the ends of the central 90 %.
struct Band {
  double median = 0.0;
  double low = 0.0;
  double high = 0.0;
};

/// The band of some values; those that are not numbers are left out. Between two neighbours of the sorted values it
/// runs straight (Hazen: the k-th of n stands at (k - 1/2)/n). All 0 when there are none.
Band band_of(std::vector<double> values);

struct SampleOptions {
  std::size_t samples = 512;  ///< a power of two makes the best use of the points
  std::uint64_t seed = 1;
  unsigned threads = 2;
  bool influence = true;  ///< also say which input matters; costs another samples/4 for every input
  Progress progress = {};
};

/// Answers of a model for lines drawn from what the file says.
struct Bands {
  std::vector<line::Uncertain> inputs;
  std::vector<std::vector<double>> values;        ///< per output, per sample; NaN where a sample has no such number
  std::vector<Band> bands;                        ///< per output
  std::vector<std::vector<Influence>> influence;  ///< per output, per input; empty when not asked for
  std::size_t samples = 0;
  std::size_t failed = 0;  ///< samples without convergence: in no band
  std::uint64_t seed = 1;
};

/// The numbers that a line is asked for, written to `out`. Called from several threads at once; must depend on the line
/// alone.
using LineModel = std::function<void(const line::Line& line, std::span<double> out)>;

/// Draws lines and asks each. A sample whose solver gives up is counted and left out. Throws BadInput, and
/// NoConvergence when no sample at all converges.
Bands bands(const line::Line& line, std::size_t outputs, const LineModel& model, const SampleOptions& options = {});

}  // namespace airtally::study
