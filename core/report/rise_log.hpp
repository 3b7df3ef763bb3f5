#pragma once
#include <string>

#include "hunt/logs/rise_fit.hpp"
#include "line/line.hpp"
#include "report/look.hpp"

namespace airtally::report {

/// A measured pull-down beside the line's own: both curves, misfit, fitted factors. At most 80 columns but for names.
std::string rise_log_text(const line::Line& line, const hunt::RiseFit& fit, const Look& look);

}  // namespace airtally::report
