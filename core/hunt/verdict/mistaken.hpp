#pragma once
#include <string>
#include <vector>

#include "hunt/fit/evidence.hpp"
#include "hunt/fit/modes.hpp"

namespace airtally::hunt {

/// Sentences on readings that a line could give, but that look like a mistake at the bench: a gauge that shows absolute
/// pressure where what it shows is also a vacuum the pump can pull, or one that shows nothing at all where a
/// sound line would. `readings`: those
/// that are fitted; `modes`: their peaks, one at least. Taken as absolute, they must be twenty times as likely.
std::vector<std::string> mistaken(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
                                  const std::vector<Mode>& modes);

}  // namespace airtally::hunt
