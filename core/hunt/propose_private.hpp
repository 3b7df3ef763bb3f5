#pragma once
#include <vector>

#include "hunt/hunt.hpp"
#include "hunt/verdict/rivals.hpp"

namespace airtally::hunt {

/// One that is worse than filed, and whose fault would explain the readings as well.
struct Instead {
  std::size_t element = 0;  ///< index into the line
  Rival rival;
};

/// What a hunt has found before it says what to do next. All but the copies must outlive it.
struct Found {
  const Suspects& suspects;
  Evidence& evidence;
  const Readings& readings;
  std::vector<Mode> modes;            ///< the peaks
  std::vector<solve::TipState> tips;  ///< one state per nozzle
  Beliefs beliefs;                    ///< samples of the posterior
  std::vector<Rival> rivals;          ///< of the first element, where there would be a verdict else
  std::vector<Rival> hidden;          ///< whose faults would not show yet, where there is none
  std::vector<Instead> instead;       ///< of what is worse than filed, most probably the worst first
};

/// The next tests into `result`, and those that tell look-alikes apart; before the first reading, those of a line in
/// trouble. Its elements and look-alikes must be in it. Throws NoConvergence.
void propose(const Found& found, const HuntOptions& options, Hunt& result);

/// Entropy of who is the worst, of all elements or of `some`, as if it were one of these [bit].
double doubt_of(const std::vector<Finding>& findings, const std::vector<std::size_t>& some = {});

/// Whether a test that tells so many bits is worth making, with that doubt left [bit].
bool worth_making(double bits, double doubt);

/// Whether the test, which is blind, has the likeliest element on the line where no reading had it there yet: capped
/// behind it, or the line whole.
bool puts_on(const Hunt& hunt, const NextTest& test);

/// Whether the first of the next tests tells so little, less than a quarter of the doubt that is left or of one bit,
/// that a gauge for the plug is worth looking for. Not of tests that are to part rivals, nor before the first reading.
bool tells_little(const Hunt& hunt);

/// What a loose gauge would tell where nothing else does, or twice as much as what else does: the first test of the
/// hunt as it would be with one, good to what is common. None where there is one already, or none is to be had, or it
/// would not tell much either. `result`: what propose() has left. Throws NoConvergence.
std::optional<NextTest> with_plug_gauge(const line::Line& line, const Found& found, const HuntOptions& options,
                                        Hunt result);

}  // namespace airtally::hunt
