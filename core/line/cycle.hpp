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
  units::Quantity delay = 0;  ///< on all its times [s] >= 0
  Position where;             ///< of the nozzle's name, for complaints
};

/// One pick as it is scheduled. All times in seconds >= 0 from the start of the cycle; cycle_order.hpp has
/// their order, and study::plan() refuses others with BadInput.
struct Cycle {
  units::Quantity valve_on = 0;              ///< command to the valve before the nozzle [s]
  units::Quantity approach_height = 0.5e-3;  ///< gap at which the nozzle's last stretch begins [m] >= 0
  units::Quantity approach_speed = 20e-3;    ///< on that stretch [m/s] > 0
  units::Quantity touch = 0;                 ///< the nozzle meets the part [s]
  std::optional<units::Quantity> lift;       ///< [s]; none: as soon as it is safe
  std::optional<units::Quantity> travel;     ///< sideways moves begin [s]; none: with the lift
  units::Quantity place = 0;                 ///< the part stands again [s]
  std::optional<units::Quantity> release;    ///< command to let go [s]; none: letting_go() of cycle_order.hpp
  std::optional<units::Quantity> vent_time;  ///< how long the vent or blow-off stays open [s] > 0; none: until the end
  std::optional<units::Quantity> retract;    ///< the nozzle leaves the part [s]; none: at the end
  std::optional<units::Quantity> period;     ///< the cycle begins anew [s]; none: it is run once
  bool pump_always_on = true;                ///< false: it starts with each cycle; the first begins at ambient
  std::optional<units::Quantity> pump_off;   ///< switched pump: when it stops [s]; none: it runs on
  std::vector<HeadSchedule> heads;           ///< those that are not on time
  Position where;                            ///< of the table, for complaints
};

}  // namespace airtally::line
