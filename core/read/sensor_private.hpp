#pragma once
#include "line/sensor.hpp"
#include "read/table_reader_private.hpp"

namespace airtally::read {

/// [sensor]: the pressure sensor, its amplifier and its ADC.
line::Sensor read_sensor(TableReader& table);

}  // namespace airtally::read
