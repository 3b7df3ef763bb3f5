#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/hold.hpp"

namespace airtally::report {

/// The holding budget as text for people, at most 80 columns wide: verdict, what is needed and had, what still holds.
std::string hold_text(const line::Line& line, const study::Hold& hold, const Look& look);

/// The same as JSON, format 1; docs/json.md lists the keys.
std::string hold_json(const line::Line& line, const study::Hold& hold);

}  // namespace airtally::report
