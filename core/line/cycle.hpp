#pragma once
#include <optional>
#include <string>
#include <vector>

#include "errors.hpp"
#include "units/quantity.hpp"

namespace airtally::line {

/// One head that works later than the others.
struct HeadSchedule {
  std::string nozzle;         ///< name of its nozzle
  units::Quantity delay = 0;  ///< on all its times [s]
  Position where;
};

/// One pick as it is scheduled. All times in seconds from the start of the cycle.
struct Cycle {
  units::Quantity valve_on = 0;              ///< command to the valve before the nozzle
  units::Quantity approach_height = 0.5e-3;  ///< gap at which the nozzle's last stretch begins [m]
  units::Quantity approach_speed = 20e-3;    ///< on that stretch [m/s]
  units::Quantity touch = 0;                 ///< the nozzle meets the part
  std::optional<units::Quantity> lift;       ///< none: as soon as it is safe
  std::optional<units::Quantity> travel;     ///< sideways moves begin; none: with the lift
  units::Quantity place = 0;                 ///< the part stands again
  std::optional<units::Quantity> release;    ///< command to let go; none: at place
  std::optional<units::Quantity> vent_time;  ///< how long the vent or blow-off stays open; none: until the end
  std::optional<units::Quantity> retract;    ///< the nozzle leaves the part; none: at the end
  std::optional<units::Quantity> period;     ///< the cycle begins anew; none: it is run once
  bool pump_always_on = true;                ///< false: it starts with each cycle; the first begins at ambient
  std::optional<units::Quantity> pump_off;   ///< switched pump: when it stops
  std::vector<HeadSchedule> heads;           ///< those that are not on time
  Position where;
};

}  // namespace airtally::line
