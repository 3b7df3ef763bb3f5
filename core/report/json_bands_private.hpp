#pragma once
#include "line/uncertain.hpp"
#include "report/json_private.hpp"

namespace airtally::report {

/// A value that the file is not sure of: name, value, low, high, spread.
Json uncertain_json(const line::Uncertain& uncertain);

}  // namespace airtally::report
