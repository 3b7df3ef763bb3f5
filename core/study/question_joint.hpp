#pragma once
#include <vector>

#include "study/joint.hpp"
#include "study/question.hpp"

namespace airtally::study {

/// Question::cost of joint_question().
inline constexpr double joint_cost = 6000.0;

/// What a placement costs with the joint and with the twisted tube, whether the tube costs less, and where both are
/// equal. Seals of the catalogue stand at their middle values. Throws as joint().
Question joint_question(const line::Line& line, const line::Twist& twist, const std::vector<line::Seal>& seals);

}  // namespace airtally::study
