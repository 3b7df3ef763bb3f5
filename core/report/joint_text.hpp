#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/joint.hpp"

namespace airtally::report {

/// Joint or twisted tube as text for people, at most 80 columns wide: verdict, every way's vacuum and time, the tube,
/// the break-even and its curve.
std::string joint_text(const line::Line& line, const study::Joint& joint, const Look& look);

/// The same as JSON, format 1; docs/json.md lists the keys.
std::string joint_json(const line::Line& line, const study::Joint& joint);

}  // namespace airtally::report
