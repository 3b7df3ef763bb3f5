#pragma once
#include <vector>

#include "study/check.hpp"

namespace airtally::study {

/// Soft tubes that would flatten at a vacuum that a source of the line can pull: a warning each, in line order. No
/// study models a tube that has flattened, so that each answers as if it stayed round.
std::vector<Warning> flattening(const line::Line& line);

}  // namespace airtally::study
