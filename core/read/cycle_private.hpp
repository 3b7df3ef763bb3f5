#pragma once
#include "line/cycle.hpp"
#include "read/table_reader_private.hpp"

namespace airtally::read {

/// [cycle]: when a pick's valve, nozzle and pump do what. That the times are in order is checked when the cycle is laid
/// out, since an order may depend on what was left out.
line::Cycle read_cycle(TableReader& table);

}  // namespace airtally::read
