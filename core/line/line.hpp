#pragma once
#include <optional>
#include <string>
#include <vector>

#include "gas/site.hpp"
#include "line/cycle.hpp"
#include "line/element.hpp"
#include "line/sensor.hpp"

namespace airtally::line {

/// What the nozzle picks.
struct Part {
  std::string name;
  Quantity mass = 0;                              ///< [kg]
  Quantity gap = 0;                               ///< between part and rim [m]
  std::optional<RatedLeak> porosity;              ///< air through the part itself
  std::optional<Quantity> length, width, height;  ///< [m]
  Position where;
};

/// Up to where the vacuum acts on the part.
enum class SealAt {
  bore,  ///< the nozzle's bore: what holds for any part
  rim    ///< the outer edge of its mouth, where a soft or lapped rim seals
};

/// How the held part is moved, and with what safety.
struct Move {
  Quantity lift = 0;         ///< acceleration upwards [m/s2]
  Quantity travel = 0;       ///< acceleration sideways [m/s2]
  Quantity spin = 0;         ///< turning rate of the spindle [rad/s]
  Quantity spin_up = 0;      ///< its angular acceleration [rad/s2]
  Quantity offset = 0;       ///< of the part's centre of mass from the nozzle's axis [m]
  Quantity friction = 0.3;   ///< between part and rim [-]; common practice, no source
  Quantity lift_safety = 2;  ///< on the force needed upwards [-]; common practice, no source
  Quantity side_safety = 4;  ///< on the force needed sideways [-]; common practice, no source
  SealAt seal = SealAt::bore;
  bool friction_stated = false;  ///< in the file, as the next two; otherwise the value is the common practice above
  bool lift_safety_stated = false;
  bool side_safety_stated = false;
  Position where;
};

/// A whole line as described: the truth that every command starts from.
struct Line {
  std::string title;
  std::string file;
  gas::Site site;
  std::vector<Element> elements;  ///< in the order written
  std::optional<Part> part;
  std::optional<Move> move;
  std::optional<Cycle> cycle;
  std::optional<Sensor> sensor;
  std::vector<std::string> assumed;  ///< about the line as a whole
};

/// Index of the element of that name, if there is one.
std::optional<std::size_t> find(const Line& line, std::string_view name);
/// Indices of all elements of that kind, in line order.
std::vector<std::size_t> all_of(const Line& line, Kind kind);

}  // namespace airtally::line
