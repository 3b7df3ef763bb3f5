#pragma once
#include <vector>

#include "hunt/readings/reading.hpp"
#include "line/notes.hpp"

namespace airtally::hunt {

/// The readings of one or several files on a line: names looked up, tips completed by the usual state, instruments
/// found. Throws BadInput with every complaint: a name that the line does not have, a gauge where none is or that is
/// off the line when it is capped there, a current without a curve, a tip's state that needs a part, a log that shows
/// nothing. Logs must have been read: read_logs().
Readings look_up(const line::Line& line, const std::vector<line::Notes>& files);

}  // namespace airtally::hunt
