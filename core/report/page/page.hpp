#pragma once
#include <string>
#include <vector>

#include "report/look.hpp"
#include "report/page/findings.hpp"
#include "report/page/picture.hpp"

namespace airtally::report::page {

/// Every picture that the findings allow, in the order of the page. `look`: the unit that vacuums are shown in first.
std::vector<Picture> pictures(const Findings& found, const Look& look);

/// The whole page: one HTML file that needs nothing else, neither network nor script.
std::string page(const Findings& found, const Look& look);

}  // namespace airtally::report::page

namespace airtally::report {

/// The findings as one JSON object: under each command's name what that command gives. `changes`: as Look::changes.
/// docs/json.md lists the keys.
std::string report_json(const page::Findings& found, const std::vector<std::string>& changes);

}  // namespace airtally::report
