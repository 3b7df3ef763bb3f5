#pragma once
#include <vector>

#include "hunt/readings/impossible.hpp"
#include "hunt/readings/reading.hpp"
#include "study/strip.hpp"

namespace airtally::hunt {

/// A step of the removal test as it was read and as the line file has it.
struct Beside {
  std::size_t step = 0;                        ///< index into the strip's steps
  Instrument instrument = Instrument::vacuum;  ///< what was read
  std::size_t at = 0;                          ///< where, an index into the line
  double read = 0.0,                           ///< [Pa] or [A]
      predicted = 0.0;                         ///< by the line file [Pa] or [A]
  double noise = 0.0;                          ///< standard deviation of one reading [Pa] or [A]
  double accuracy = 0.0;  ///< standard deviation of what all readings of the instrument share [Pa] or [A]
  /// What this step brought by the readings, less what the file says it brings: read and predicted, each less the
  /// nearest step towards the source that was read at the same instrument [Pa] or [A]. 0 for the first.
  double surprise = 0.0;
  bool compared = false;              ///< there was such a step
  Position where;                     ///< in the readings file
  std::vector<solve::TipState> tips;  ///< of lines with more nozzles than one, as they were; else empty
  std::size_t from = 0;               ///< the step it is compared with, an index into the strip's; its own: none
};

/// The line without some of its branches, or whole, as it was read and as the line file has it.
struct BesideBranch {
  std::vector<std::size_t> off;  ///< elements that these begin with, in line order; empty: nothing was off
  Instrument instrument = Instrument::vacuum;  ///< what was read
  std::size_t at = 0;                          ///< where, an index into the line
  double read = 0.0,                           ///< [Pa] or [A]
      predicted = 0.0;                         ///< by the line file [Pa] or [A]
  double noise = 0.0;                          ///< standard deviation of one reading [Pa] or [A]
  double accuracy = 0.0;  ///< standard deviation of what all readings of the instrument share [Pa] or [A]
  /// What was off brought by the readings, less what the file says it brings: read and predicted, each of the whole
  /// line less without it [Pa] or [A]. 0 where the whole line was not read at the same instrument.
  double surprise = 0.0;
  bool compared = false;         ///< it was
  double predicted_whole = 0.0;  ///< then: what the file says of the whole line, at the same instrument [Pa] or [A]
};

/// What readings with and without branches say.
struct BranchFinding {
  /// Of what kind it is.
  enum class Kind {
    none,          ///< all is as the file has it, or nothing was read
    contradicted,  ///< the vacuum fell without a branch, which can't be
    branch,        ///< what was off is worse than filed: without it the line is as filed, and with it not
    elsewhere,     ///< less vacuum, or another current, than filed, and no branch by itself brings it
    above,         ///< more vacuum than filed
    better         ///< the branch costs less than filed
  };
  Kind kind = Kind::none;   ///< what they say
  std::size_t reading = 0;  ///< the one that says so most, an index into BesideAll::branches
};

/// Two readings of one instrument that no state of the line could have given both.
struct Contradiction {
  std::size_t nearer = 0,  ///< capped nearer to the source, or at the same step; an index into the list
      beyond = 0;          ///< the other
  double by = 0.0;         ///< how far they are apart [Pa] or [A] > 0
  bool same_step = false;  ///< one setting read twice; else the vacuum rose with more of the line on the source
};

/// A reading that is no step of the removal test, and what the line file says of it.
struct BesideOther {
  Setting setting;                             ///< what was done to the line
  Instrument instrument = Instrument::vacuum;  ///< what was read
  std::size_t at = 0;                          ///< where, an index into the line
  double read = 0.0,                           ///< [Pa] or [A]
      predicted = 0.0;                         ///< by the line file [Pa] or [A]
  double deviation = 0.0;  ///< standard deviation of one reading, the instrument's own error in it [Pa] or [A] > 0
};

/// All readings beside the removal test.
struct BesideAll {
  std::vector<Beside> list;            ///< step by step
  std::vector<BesideBranch> branches;  ///< of a line that forks: nothing off first, then branch by branch
  BranchFinding branch_finding;        ///< what those say
  std::size_t others = 0;              ///< readings that are neither: drilled plates, tips
  /// That of those which is farthest off the file, where one is by a tenth, and beyond its instrument's own error.
  std::optional<BesideOther> far;
  /// The state that all tips had in one of those, or more, which would not be left out if the strip were of that state.
  std::optional<solve::TipState> other_tips;
  std::vector<Impossible> set_aside;          ///< those that no state of the line could give; they are not in the list
  std::vector<Contradiction> contradictions;  ///< the widest first, each reading in one at most
  /// Index into `list`: what brings most more than the file says, beyond the noise; none: nothing does. Where past a
  /// fork other branches came on with it and another step shows about as much with fewer elements, that one.
  std::optional<std::size_t> worst;
  /// What that may lie in, in line order, indices into the line: what came on with that step, less what other readings
  /// clear. Empty without `worst`. More than one element: the readings don't tell which.
  std::vector<std::size_t> in_doubt;
  /// The same of what takes most less vacuum than the file says: better than was thought.
  std::optional<std::size_t> spared;
  /// The same of what shows less vacuum, or another current, than the file says, with no step to compare it with: by a
  /// twentieth, and beyond the instrument's own error. Of gauges that lack about as much, the one capped nearest to the
  /// source; before them all, the ammeter of a source with nothing else on it.
  std::optional<std::size_t> off;
  bool off_confirmed = false;  ///< another gauge lacks about as much, or behind an ammeter any: it is no instrument's
  std::optional<std::size_t> above;  ///< as `off`, of gauges that show more vacuum than the file says
};

/// Puts readings beside a strip of the same line. Readings of blind caps, and of the single nozzle blocked, are its
/// steps; those that the hunt would set aside are set aside here too. A surprise counts when it exceeds three standard
/// deviations of the two readings it is made of; the instrument's own error is in both and goes out. Tested by
/// tests/hunt/beside_test.cpp.
BesideAll beside(const line::Line& line, const study::Strip& strip, const Readings& readings);

}  // namespace airtally::hunt
