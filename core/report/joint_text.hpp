#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/joint.hpp"

namespace airtally::report {

/// Joint or twisted tube as text for people, at most 80 columns wide: verdict, every way's vacuum and time, the tube,
/// the break-even and its curve.
std::string joint_text(const line::Line& line, const study::Joint& joint, const Look& look);

/// Joint or tube, and from which clearance or leak on the other would win: in sentences, not yet broken into lines.
std::string joint_verdict(const line::Line& line, const study::Joint& joint);
/// A way for people: "the rotary joint", "the twisted tube", "the 'lip seal'".
std::string joint_way(const line::Line& line, const study::JointWay& way);

/// The same as JSON, format 1; docs/json.md lists the keys.
std::string joint_json(const line::Line& line, const study::Joint& joint);

}  // namespace airtally::report
