#pragma once
#include "gas/site.hpp"
#include "line/cycle.hpp"
#include "line/line.hpp"
#include "line/sensor.hpp"
#include "read/table_reader_private.hpp"

/// The tables of a line file, a function each; what they read stands in a file of that name.
namespace airtally::read {

/// [site]: altitude or pressure, temperature.
gas::Site read_site(TableReader& table);

/// [part]: what the nozzle picks. `site_pressure` [Pa] bounds the vacuum of a rated leak.
line::Part read_part(TableReader& table, double site_pressure);

/// [move]: accelerations of the held part, friction, safety factors, and up to where the vacuum acts.
line::Move read_move(TableReader& table);

/// [cycle]: when a pick's valve, nozzle and pump do what. That the times are in order is checked when the cycle is laid
/// out, since an order may depend on what was left out.
line::Cycle read_cycle(TableReader& table);

/// [sensor]: the pressure sensor, its amplifier and its ADC.
line::Sensor read_sensor(TableReader& table);

}  // namespace airtally::read
