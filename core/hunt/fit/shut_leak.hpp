#pragma once
#include <span>
#include <vector>

#include "hunt/beliefs/unknowns.hpp"
#include "line/topology.hpp"

namespace airtally::hunt {

/// Whether an element of this kind shuts at its end towards the pump, so that what it holds and leaks stays with the
/// tip: valves, check valves, and sources, whose valves lie behind their inlet. All else is clamped at its tip's end.
bool closes_behind_itself(line::Kind kind);

/// What leaks into the part of a line that a valve or clamp has shut off from its pump, at the vacuum at which leaks
/// are compared: what a decay log measures. It needs no solve, as all of that part has one pressure then, and it is
/// linear in the factors on leaks and seals.
class ShutLeak {
 public:
  /// `shut`, an index into the line: what lies on its tip's side is shut off, and its own leaks where it
  /// closes_behind_itself(). `topology` is that of the line of `suspects`. Throws BadInput when the setting is no sound
  /// line, DomainError when `shut` is not on it.
  ShutLeak(const Suspects& suspects, const line::Topology& topology, const Setting& setting, std::size_t shut);

  /// Elements whose leaks count, indices into the whole line.
  const std::vector<std::size_t>& inside() const { return inside_; }
  /// The flow [kg/s at leak_vacuum()] >= 0 with the unknowns at `values`.
  double at(std::span<const double> values) const;
  /// d at()/d value for every unknown.
  const std::vector<double>& slopes() const { return per_unit_; }

 private:
  std::vector<std::size_t> inside_;
  std::vector<double> per_unit_;  // per unknown [kg/s]
  double fixed_ = 0.0;            // what no unknown scales [kg/s]
};

}  // namespace airtally::hunt
