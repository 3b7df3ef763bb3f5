#pragma once
#include "gas/site.hpp"
#include "line/line.hpp"
#include "read/table_reader_private.hpp"

namespace airtally::read {

/// [site]: altitude or pressure, temperature.
gas::Site read_site(TableReader& table);

/// [part]: what the nozzle picks.
line::Part read_part(TableReader& table, double site_pressure);

}  // namespace airtally::read
