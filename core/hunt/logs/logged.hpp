#pragma once
#include <string>
#include <vector>

#include "hunt/readings/reading.hpp"
#include "line/notes.hpp"

namespace airtally::hunt {

/// What a decay log says for a hunt: the leak into what was shut off, `reading` with its own noise: of the fit, and of
/// the volume, which without a stated one is the line file's give or take 10 % (two standard deviations). Sentences on
/// what else may have made the rise go to `remarks`. `reading.setting` and `reading.at` (what shut, an index into the
/// line) are set already. Throws BadInput when the log shows no decay, nothing is shut off, or a tip is open.
void take_decay(const line::Line& line, const line::Note& note, Reading& reading, std::vector<std::string>& remarks);

/// What a pull-down says for a hunt: the vacuum at which it ends, the mean of its last tenth [Pa]. The way there
/// depends on volumes that the line file knows to a tenth at best; rise --log compares it. Throws BadInput when the
/// vacuum still moves there: by more than 1 % from the tenth before.
double end_of_rise(const line::Log& log);

}  // namespace airtally::hunt
