#pragma once
#include <optional>
#include <vector>

#include "hunt/impossible.hpp"
#include "hunt/next_test.hpp"
#include "hunt/quality.hpp"
#include "hunt/sample.hpp"

namespace airtally::hunt {

/// Median and central 90 % of a quantity.
struct Interval {
  double median = 0.0;
  double low = 0.0;
  double high = 0.0;
};

struct Finding {
  std::size_t element = 0;
  Interval leak;                          ///< all its leaks, from ambient to leak_vacuum() [kg/s]
  std::optional<Interval> open_fraction;  ///< of its restriction: 1 clear, 0 plugged; none where nothing restricts
  Interval cost;                          ///< what mending it would gain at the tip [Pa]
  double worst_probability = 0.0;         ///< that no other element's mending would gain more
  bool only_prior = false;                ///< no reading says anything about it
};

/// One of the unknowns that are no element's leak or blockage.
struct Nuisance {
  Unknown unknown;
  Interval value;
};

/// A reading beside what the fitted line predicts for it.
struct Compared {
  Reading reading;
  Interval predicted;  ///< with the instrument's systematic error
};

/// Elements that the readings can't tell apart, and the single test that would tell most.
struct LookAlikes {
  std::vector<std::size_t> elements;
  std::optional<NextTest> test;
};

struct Hunt {
  std::vector<Finding> elements;  ///< most probably the worst first
  std::vector<Nuisance> others;
  std::vector<Compared> readings;
  std::vector<Impossible> set_aside;
  std::vector<LookAlikes> look_alikes;
  std::vector<NextTest> next;
  Quality quality;
  bool prior_only = true;  ///< nothing was read: all of this is what was believed before
  bool quick = false;      ///< from few samples
  bool converged = true;   ///< enough samples that agree; otherwise take intervals and probabilities as rough
  double effective = 0.0, r_hat = 1.0;
  double agreement = 1.0;  ///< the least chance that any population of samples gives the first element
  std::size_t samples = 0;
  std::size_t peaks = 0;
};

struct HuntOptions {
  std::vector<solve::TipState> tips;  ///< the usual state, in which costs are counted; empty: usual_tips()
  bool quick = false;                 ///< few samples: a tenth of a second
  std::size_t next = 8;               ///< tests to propose; 0: none
  SampleOptions sampling;
};

/// The whole hunt. Throws BadInput, NoConvergence.
Hunt hunt(const line::Line& line, const Readings& readings, const HuntOptions& options = {});

/// A probability of being the worst at which a verdict is given.
inline constexpr double enough_for_verdict = 0.95;

/// Why the likeliest element is, or is not, the verdict.
enum class Verdict {
  sure,         ///< likely enough, tested, and nothing speaks against it
  unsure,       ///< not likely enough yet, or no reading had it on the line
  unexplained,  ///< likely enough, but the line file can't explain the readings (Quality::chance below a thousandth)
  unsettled,    ///< likely enough, but the samples are too few or do not agree on it
};

/// Whether the first element is `sure` to be the worst. Never without readings.
Verdict verdict(const Hunt& hunt);

}  // namespace airtally::hunt
