#pragma once
#include <optional>
#include <utility>
#include <vector>

#include "hunt/fit/quality.hpp"
#include "hunt/next/next_test.hpp"
#include "hunt/readings/impossible.hpp"
#include "hunt/samples/sample.hpp"

namespace airtally::hunt {

/// Where a quantity lies, in its own unit.
struct Interval {
  double median = 0.0;  ///< half lies below
  double low = 0.0;     ///< 5 % lies below
  double high = 0.0;    ///< 95 % lies below
};

/// What is believed of one element after the readings.
struct Finding {
  std::size_t element = 0;                ///< index into the line
  Interval leak;                          ///< all its leaks, from ambient to leak_vacuum() [kg/s]
  std::optional<Interval> open_fraction;  ///< of its restriction: 1 clear, 0 plugged; none where nothing restricts
  std::optional<Interval> bore;           ///< of a long_bore() over its whole length [m]
  Interval cost;                          ///< what mending it would gain at the tip [Pa]
  double filed_leak = 0.0;                ///< leak as the file has it, of a range the most of it [kg/s]
  double filed_open = 1.0;                ///< what the file has at least open of its restriction [-]
  Interval excess;                        ///< what one as the file has it would gain at the tip; 0: not `notable` [Pa]
  double amiss = 0.0;                     ///< probability that this is `notable` [-]
  /// Of what is amiss() or off_file(): whose fault the readings allow in its place, instead_of(), an index into the
  /// line.
  std::optional<std::size_t> instead;
  double worst_probability = 0.0;  ///< that no other element's mending would gain more [-]
  bool only_prior = false;         ///< no reading says anything about it
};

/// One of the unknowns that are no element's leak or blockage.
struct Nuisance {
  Unknown unknown;  ///< which
  Interval value;   ///< as Unknown::what says
};

/// A reading beside what the fitted line predicts for it.
struct Compared {
  Reading reading;     ///< as it was read
  Interval predicted;  ///< with the instrument's systematic error, in the reading's unit
  /// What a line as the file has it shows, in the reading's unit: of what the file leaves open, what is nearest to the
  /// reading.
  double filed = 0.0;
  /// By how much it is worse than that, beyond what instruments and pumps leave open, in the reading's unit: less
  /// vacuum, another current or flow, three times the inflow; 0: it is not.
  double missed = 0.0;
  /// By how much it is better than that, beyond the same, in the reading's unit: more vacuum, or a third of the inflow;
  /// 0: it is not, or it is a current or a flow, of which more or less is better for one line and worse for another.
  double spare = 0.0;
};

/// Elements that the readings can't tell apart, and the single test that would tell most.
struct LookAlikes {
  std::vector<std::size_t> elements;  ///< two or more, the most probable first, indices into the line
  std::optional<NextTest> test;       ///< none: no test would tell a twentieth of which it is, or none was asked for
};

/// What a hunt found.
struct Hunt {
  std::vector<Finding> elements;                ///< most probably the worst first
  std::vector<Nuisance> others;                 ///< seals, wear of sources, errors of instruments
  std::vector<Compared> readings;               ///< those that were used, in the order given
  std::vector<std::string> remarks;             ///< on what else may have made what was read
  std::vector<Impossible> set_aside;            ///< those that no state of the line could give
  std::vector<LookAlikes> look_alikes;          ///< groups, most probable first
  std::vector<std::vector<std::size_t>> alike;  ///< as alike() has them: one's finding is each one's
  /// Elements whose fault would explain the readings as well as that of the first, were it not the usual suspect:
  /// rivals_of(). Looked for only where else there would be a verdict. Indices into the line, the best first.
  std::vector<std::size_t> rivals;
  /// Elements whose fault would not have shown yet, though it costs more than the first, with which nothing is wrong
  /// but what it costs anyhow. Looked for only where there is no verdict. Indices into the line.
  std::vector<std::size_t> hidden;
  /// Of those that are not surely amiss() themselves the fewest of which one surely is, the likeliest first. Indices
  /// into the line; empty: there are none, or too many, or the readings say no more of it than common wear does.
  std::vector<std::size_t> amiss_among;
  /// Probability that any is worse than the file has it, where the readings have made it twice as unlikely as before
  /// that none is, or more; else 0 [-].
  double unsound = 0.0;
  Interval among_excess;       ///< the most that one of these costs beyond what the file has it cost [Pa]
  double among_shut = 0.0;     ///< probability that one of them passes less than half of what the file has [-]
  std::vector<NextTest> next;  ///< tests to make, best first
  bool parts = true;           ///< the first of these would speak against a rival, if there are any
  /// Where further_test() says that there is none, or the first tells little, and there is no loose gauge: the test
  /// that would tell more with one.
  std::optional<NextTest> with_plug_gauge;
  double tip_vacuum = 0.0;  ///< of the best tip in the usual state; half of the samples lie below [Pa]
  Quality quality;          ///< how well the best state explains the readings
  bool prior_only = true;   ///< nothing was read: all of this is what was believed before
  bool quick = false;       ///< from few samples
  bool converged = true;    ///< enough samples that agree; otherwise take intervals and probabilities as rough
  double effective = 0.0,   ///< effective number of samples [-]
      r_hat = 1.0;          ///< how well the populations agree [-] >= 1
  double agreement = 1.0;   ///< the least chance that any population of samples gives the first element [-]
  std::size_t samples = 0;  ///< drawn
  std::size_t peaks = 0;    ///< of the posterior
};

/// How a hunt is made.
struct HuntOptions {
  std::vector<solve::TipState> tips;  ///< the usual state, in which costs are counted; empty: usual_tips()
  bool quick = false;                 ///< few samples: a quarter of a second on a line of a dozen elements
  std::size_t next = 8;               ///< tests to propose; 0: none
  std::vector<std::pair<Instrument, std::size_t>> without;  ///< instruments not to be had, with the element each is at
  SampleOptions sampling;  ///< of the posterior; of a quick hunt only seed and progress count
};

/// The whole hunt. Throws BadInput (the line, a setting that is none), NoConvergence.
Hunt hunt(const line::Line& line, const Readings& readings, const HuntOptions& options = {});

}  // namespace airtally::hunt
