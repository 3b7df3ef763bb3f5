#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "units/dimension.hpp"

/// What a line file said, in words.
namespace airtally::report {

/// "4 mm", "35 um +- 5 um", "20 to 45 um": a value as one would say it, with what is known of its uncertainty. `look`:
/// here as below whether nothing but ASCII is written, save for names, and the unit of vacuums. Throws DomainError for
/// a value that is not finite.
std::string said(const units::Quantity& quantity, units::Dimension dimension, const Look& look = {});

/// "tube, bore 4 mm, 800 mm long; leaks: a hole of 80 um". The kind, what it does to the air, what it carries.
std::string described(const line::Element& element, const Look& look = {});

/// "cap jewel, 12 mg, 4 um above the rim". `rim`: whether a nozzle of its line has one; else it lies on the mouth.
std::string described(const line::Part& part, bool rim, const Look& look = {});

/// "behind switch tee, a switch: on at 35 kPa, hysteresis 5 kPa, accuracy 2 kPa". Where it is, by what it tells, and
/// how well it does.
std::string described(const line::Sensor& sensor, const Look& look = {});

}  // namespace airtally::report
