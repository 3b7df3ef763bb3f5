#pragma once
#include <span>
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/outage.hpp"

namespace airtally::report {

/// How long the parts hold once the vacuum fails, as a table with what it takes for granted, at most 80 columns wide;
/// empty where there are no outages.
std::string outage_text(const line::Line& line, std::span<const study::Outage> outages, const Look& look);

/// The same of the nozzle that drops its part first, as a sentence. `outages`: not empty.
std::string outage_sentence(std::span<const study::Outage> outages);

}  // namespace airtally::report
