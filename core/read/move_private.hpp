#pragma once
#include "line/line.hpp"
#include "read/table_reader_private.hpp"

namespace airtally::read {

/// [move]: accelerations of the held part, friction, safety factors, and up to where the vacuum acts.
line::Move read_move(TableReader& table);

}  // namespace airtally::read
