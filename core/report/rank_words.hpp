#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/rank.hpp"

namespace airtally::report {

/// How much air comes in at the parts, what the tip would have if they sealed, and what to do. Only of a ranking with
/// `at_parts`.
std::string parts_sentence(const line::Line& line, const study::Ranking& ranking, const Look& look);

/// Whether the part on the judged tip needs more vacuum than a line without any loss would bring there: no repair is
/// enough.
bool needs_too_much(const study::Ranking& ranking);

}  // namespace airtally::report
