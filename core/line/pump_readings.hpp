#pragma once
#include <optional>
#include <string>
#include <vector>

#include "errors.hpp"
#include "gas/site.hpp"
#include "units/quantity.hpp"

/// What was read at a pump on the bench. Plain data in SI.
namespace airtally::line {

/// A value in SI with its uncertainty.
using units::Quantity;

/// Of ambient pressure: no vacuum pump of this kind comes as near, and the flow has to end behind the last reading [-].
inline constexpr double deepest_read = 0.997;

/// The pump's inlet open through a drilled hole, or drawing a flow that was measured: one of `hole` and `flow`.
struct PumpReading {
  Quantity vacuum;                  ///< at its inlet [Pa] >= 0, less than deepest_read of the site's ambient
  std::optional<Quantity> hole;     ///< diameter [m] > 0
  Quantity discharge = 0.72;        ///< of the hole [-], 0 to 1; see laws::hole()
  std::optional<Quantity> flow;     ///< measured [kg/s] > 0
  std::optional<Quantity> current;  ///< of the motor [A] >= 0; none: not read
  Position where;                   ///< of the reading
};

/// All that was read at one pump; two points at least, `blocked` and `free_flow` counted.
struct PumpReadings {
  std::string file;                   ///< its name, for sentences
  std::string name;                   ///< of the pump
  gas::Site site;                     ///< where it was read
  double accuracy = 0.0;              ///< of the gauge: two standard deviations, shared by all its readings [Pa] >= 0
  std::optional<Quantity> blocked;    ///< deepest vacuum, inlet blocked [Pa] > 0; none: not read
  std::optional<Quantity> free_flow;  ///< with nothing connected [kg/s] > 0; none: not read
  std::vector<PumpReading> list;      ///< in file order
  std::vector<std::string> assumed;   ///< what was not given and what was taken instead, a sentence each
};

}  // namespace airtally::line
