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
  std::string name;                   ///< for sentences; "part" unless stated
  Quantity mass = 0;                  ///< [kg] > 0
  Quantity gap = 0;                   ///< between part and rim [m] >= 0; 0: it seals
  std::optional<RatedLeak> porosity;  ///< air through the part itself; none: tight
  std::optional<Quantity> length,     ///< [m] > 0; for warnings, turning and the seal
      width,                          ///< [m] > 0; the same
      height;                         ///< [m] > 0; for tilting
  Position where;                     ///< of the name, or of the table
};

/// Up to where the vacuum acts on the part.
enum class SealAt {
  bore,  ///< the nozzle's bore: what holds for any part
  rim    ///< the outer edge of its mouth, where a soft or lapped rim seals
};

/// How the held part is moved, and with what safety.
struct Move {
  Quantity lift = 0;                ///< acceleration upwards [m/s2] >= 0
  Quantity travel = 0;              ///< acceleration sideways [m/s2] >= 0
  Quantity spin = 0;                ///< turning rate of the spindle [rad/s] >= 0
  Quantity spin_up = 0;             ///< its angular acceleration [rad/s2] >= 0
  Quantity offset = 0;              ///< of the part's centre of mass from the nozzle's axis [m] >= 0
  Quantity friction = 0.3;          ///< between part and rim [-] > 0; common practice, no source
  Quantity lift_safety = 2;         ///< on the force needed upwards [-] >= 1; common practice, no source
  Quantity side_safety = 4;         ///< on the force needed sideways [-] >= 1; common practice, no source
  SealAt seal = SealAt::bore;       ///< where the vacuum's area ends
  bool friction_stated = false;     ///< in the file, as the next two; otherwise the value is the common practice above
  bool lift_safety_stated = false;  ///< as above
  bool side_safety_stated = false;  ///< as above
  Position where;                   ///< of the table
};

/// A whole line as described: the truth that every command starts from.
struct Line {
  std::string title;                 ///< for people; may be empty
  std::string file;                  ///< that it was read from, or what stands for it in complaints; may be empty
  gas::Site site;                    ///< where it stands
  std::vector<Element> elements;     ///< in the order written
  std::optional<Part> part;          ///< none: tips can't carry one
  std::optional<Move> move;          ///< none: the part is only held
  std::optional<Cycle> cycle;        ///< none: no pick is scheduled
  std::optional<Sensor> sensor;      ///< none: nothing tells a held part from a missed one
  std::vector<std::string> assumed;  ///< about the line as a whole
};

/// Index of the first element of that name, compared letter by letter; nothing if there is none.
std::optional<std::size_t> find(const Line& line, std::string_view name);
/// The same machine at a site of ambient pressure `pressure` [Pa, absolute] > 0, at the temperature it had: nothing on
/// it changes. What was rated at its old site, leaks and the part's porosity, passes what it passed there: it remembers
/// the ambient of that site. (A line whose file says another site is another matter: there it was rated at that one.)
Line carried_to(Line line, double pressure);
/// Indices of all elements of that kind, in line order; may be empty.
std::vector<std::size_t> all_of(const Line& line, Kind kind);

}  // namespace airtally::line
