#pragma once
#include <optional>
#include <string>
#include <vector>

#include "errors.hpp"
#include "gas/site.hpp"
#include "units/quantity.hpp"

/// What was read at a pump on the bench. Plain data in SI.
namespace airtally::line {

using units::Quantity;

/// The pump's inlet open through a drilled hole, or drawing a flow that was measured.
struct PumpReading {
  Quantity vacuum;                  ///< at its inlet [Pa]
  std::optional<Quantity> hole;     ///< diameter [m]
  Quantity discharge = 0.72;        ///< of the hole [-]
  std::optional<Quantity> flow;     ///< measured [kg/s]
  std::optional<Quantity> current;  ///< of the motor [A]
  Position where;
};

struct PumpReadings {
  std::string file;
  std::string name;                   ///< of the pump
  gas::Site site;                     ///< where it was read
  double accuracy = 0.0;              ///< of the gauge: two standard deviations, shared by all its readings [Pa]
  std::optional<Quantity> blocked;    ///< deepest vacuum, inlet blocked [Pa]
  std::optional<Quantity> free_flow;  ///< with nothing connected [kg/s]
  std::vector<PumpReading> list;
};

}  // namespace airtally::line
