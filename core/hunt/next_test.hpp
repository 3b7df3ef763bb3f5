#pragma once
#include <vector>

#include "hunt/information.hpp"
#include "hunt/worst.hpp"

namespace airtally::hunt {

/// A test that could be made next.
struct NextTest {
  Setting setting;
  Instrument instrument = Instrument::vacuum;
  std::size_t at = 0;     ///< element that carries the instrument
  double effort = 0.0;    ///< joints to undo
  double expected = 0.0;  ///< median of the reading [Pa], [A], [kg/s]
  Information information;
};

/// Diameters of drilled plates that a bench is taken to have [m].
inline constexpr double drills[] = {0.3e-3, 0.5e-3, 0.8e-3, 1.0e-3, 1.2e-3, 1.5e-3};

/// Posterior samples with what each says of the line.
struct Beliefs {
  std::vector<std::vector<double>> z;
  std::vector<double> weight;  ///< adding up to 1
  Costs costs;
};

/// Every test that the line allows: each element capped, blind or with each drilled plate; the tips open, with the
/// part, blocked; read at each gauge, and at a pump's ammeter. `usual`: state of tips that a cap leaves on.
std::vector<NextTest> possible_tests(const Suspects& suspects, const std::vector<solve::TipState>& usual);

/// Those tests with what they are expected to tell, most first; tests within a twentieth of a bit of each other stand
/// in the order of their effort, a blind cap before a plate. All are tried on a hundred samples, the best dozen on all.
/// `only`: elements among which to tell, empty for all. At most `most` are returned, the first with outcomes.
std::vector<NextTest> next_tests(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs,
                                 std::vector<NextTest> tests, std::size_t most,
                                 const std::vector<std::size_t>& only = {});

}  // namespace airtally::hunt
