#pragma once
#include <string>
#include <vector>

#include "study/cycle.hpp"
#include "study/cycle_plan.hpp"

namespace airtally::study {

/// What a person should know about a cycle beyond its times, a sentence each: how often it was run, heads that can't be
/// switched, parts that are not let go and what helps, parts that may be blown away, air that an ejector uses.
std::vector<std::string> notes_of(const line::Line& line, const CycleAnswer& answer, const Plan& plan);

}  // namespace airtally::study
