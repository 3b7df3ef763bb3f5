#pragma once
#include <span>
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/hold.hpp"
#include "study/outage.hpp"

namespace airtally::report {

/// The holding budget as text for people, at most 80 columns wide: verdict, what is needed and had, what still
/// holds, and, with `outages` of that hold, how long when the vacuum fails.
std::string hold_text(const line::Line& line, const study::Hold& hold, const Look& look,
                      std::span<const study::Outage> outages = {});

/// The same as JSON, format 1; docs/json.md lists the keys.
std::string hold_json(const line::Line& line, const study::Hold& hold, std::span<const study::Outage> outages = {});

}  // namespace airtally::report
