#pragma once
#include <vector>

#include "hunt/next/information.hpp"
#include "hunt/verdict/worst.hpp"

namespace airtally::hunt {

/// An instrument to read.
struct Dial {
  Instrument instrument = Instrument::vacuum;  ///< what it reads
  std::size_t at = 0;                          ///< element that carries it, an index into the line
  double expected = 0.0;                       ///< median of the reading [Pa], [A], [kg/s]
  double step = 0.0;                           ///< of its display [Pa], [A], [kg/s]; 0: not known
};

/// A test that could be made next: whoever has the line capped reads all that tells.
struct NextTest {
  Setting setting;          ///< what to do to the line
  std::vector<Dial> dials;  ///< what to read, at least one: the most telling first
  double effort = 0.0;      ///< joints to undo [-] >= 0
  bool standing = false;    ///< the last reading left the line so: nothing is to undo
  /// What the readings would tell together; its outcomes are those of the first alone.
  Information information = {};
  /// Whom it is to part from the blamed; then its outcomes are those that speak for the blamed, and any other reading
  /// speaks for one of these. Indices into the line; empty: no one.
  std::vector<std::size_t> rivals = {};
};

/// Diameters of drilled plates that a bench is taken to have where it does not say [m].
inline constexpr double drills[] = {0.3e-3, 0.5e-3, 0.8e-3, 1.0e-3, 1.2e-3, 1.5e-3};

/// Tests that are tried on all samples, at most.
inline constexpr std::size_t finalists = 12;

/// Posterior samples with what each says of the line.
struct Beliefs {
  std::vector<std::vector<double>> z;  ///< per sample: all unknowns [-]
  std::vector<double> weight;          ///< per sample [-], adding up to 1
  Costs costs;                         ///< of the same samples
};

/// Every test that line and bench allow: each element capped, blind or with each drilled plate at hand; where the line
/// forks, each branch taken off, and the first two, three, ... together; of nozzles side by side the first two, three,
/// ... blocked; the tips open, with the part, blocked; each with all gauges that are then on the line and the pumps'
/// ammeters, a blind cap also with the loose gauge where there is one. `usual`: state of tips that are left on then.
std::vector<NextTest> possible_tests(const Suspects& suspects, const Bench& bench,
                                     const std::vector<solve::TipState>& usual);

/// Those tests with what they are expected to tell, most first; tests within a twentieth of a bit of each other stand
/// in the order of their effort, a blind cap before a plate. All are tried on a hundred samples, the best dozen on all;
/// of these the dials stay that tell more than that beyond the most telling one.
/// `only`: elements among which to tell, empty for all. At most `most` are returned, the best dozen with outcomes.
std::vector<NextTest> next_tests(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs,
                                 std::vector<NextTest> tests, std::size_t most,
                                 const std::vector<std::size_t>& only = {});

/// Sets what the dials of these tests are expected to show to the medians of other beliefs than those the tests were
/// weighed by. A test that none of a hundred samples can be solved in keeps what it had.
void expect(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs, std::vector<NextTest>& tests);

}  // namespace airtally::hunt
