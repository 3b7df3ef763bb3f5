#pragma once
#include <string>

#include "line/line.hpp"
#include "study/strip.hpp"

/// What the bench sheet says of where its gauges go and of what blocks an end.
namespace airtally::report {

/// With what the tip-side end of an element is blocked: "plug, 4 mm" where its bore is known, "cap its port" where not,
/// "block its mouth" of a nozzle; "" of a plug, which is one.
std::string blocked_with(const line::Element& element);

/// Where each gauge of the test sits, and from which step on it reads; a sentence or more for each.
std::string where_gauges_go(const line::Line& line, const study::Strip& strip);

}  // namespace airtally::report
