#pragma once
#include <vector>

#include "hunt/fit/modes.hpp"

namespace airtally::hunt {

/// Chi-square that parts two explanations: three standard deviations.
inline constexpr double parted = 9.0;

/// An element that could be at fault instead of the one that is blamed.
struct Rival {
  std::size_t element = 0;  ///< index into the line
  std::vector<double> z;    ///< the state of the line that explains the readings best then, one per unknown [-]
  double worse = 0.0;       ///< by how much it explains them worse [-, chi-square]; below 0: better
  /// Draws about that, as Trial::draws() makes them, unknowns of the blamed held [-].
  std::vector<std::vector<double>> draws;
};

/// Elements whose fault would explain the readings as well as that of `blamed` (an index into the line), or worse by
/// less than `parted`, the best first. Some elements are the usual suspects, a rotary joint above all, and a leak is
/// readily laid at their door as long as no reading has parted them from their neighbours; so here nobody's record
/// counts for much.
///
/// Each element in turn: `blamed` is taken to be sound (a hundredth of the leak that was found, way clear, a pump as
/// good as its curve, unless it has merely worn as pumps do), the prior of the other's leak is made three times as
/// wide, and the peak of the posterior is sought from a fault of each kind there; where the readings don't ask for that
/// fault, it is held at what costs the tips as much as the blamed does. Where nothing is wrong with the blamed but what
/// it costs anyhow (all its unknowns within damage_onset, or less than a twentieth of the tip's vacuum), the fault that
/// is looked for may be where no reading has looked: then that is tried with the blamed as it is, too, with mending it
/// gaining a quarter more than mending the blamed and at least a fifth of the tip's vacuum, or else a twentieth, unless
/// such a fault, with all that would keep it from showing, is less likely than one in a hundred, or a blockage with no
/// tip open. What is compared is the least sum of squares of the readings' misfits and of all z, to that where `blamed`
/// is at fault and its leak's prior is as wide. It counts when that element is then the worst and, once it is mended,
/// no other costs half of that beyond what it costs by design, the tips in the state `tips` (one per nozzle). Where the
/// blamed costs a twentieth of the tip's vacuum more than the file has it cost, it is tried as filed as well; then that
/// element counts which costs as much more than filed, and more than any other does. `modes`:
/// the peaks, at least one. `only_beside`: each is tried with the blamed as it is alone, so there are none where
/// something is wrong with that. Several elements are tried at the same time. Some sixty fits on a line of nine
/// elements. Throws NoConvergence. Tested by tests/hunt/rivals_test.cpp.
std::vector<Rival> rivals_of(const Suspects& suspects, Evidence& evidence, const std::vector<Mode>& modes,
                             const std::vector<solve::TipState>& tips, std::size_t blamed, bool only_beside = false);

}  // namespace airtally::hunt
