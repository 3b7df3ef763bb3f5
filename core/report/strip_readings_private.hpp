#pragma once
#include <optional>
#include <string>

#include "hunt/readings/beside.hpp"
#include "line/line.hpp"
#include "report/look.hpp"
#include "report/strip_readings.hpp"

namespace airtally::report {

/// What the readings say: the step or the branch that surprises, a weak pump, readings at odds with each other.
/// `misread`: the one that is suspect itself, if any.
std::string strip_readings_verdict(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all,
                                   const std::optional<Misread>& misread, const Look& look);

class Teller;
/// A reading with none to compare it with, below what the file says. `confirmed`: BesideAll::off_confirmed.
std::string too_low(const Teller& teller, const hunt::Beside& b, bool confirmed);
/// A gauge with none to compare it with, above what the file says.
std::string too_high(const Teller& teller, const hunt::Beside& b);
/// That nothing surprises, and how little was read where it was little.
std::string as_filed(const hunt::BesideAll& all, const study::Strip& strip);
/// The reading left out that is farthest off the file; "" where none is far. Begins with a space.
std::string left_out_far(const line::Line& line, const hunt::BesideAll& all, const Look& look);

/// Whether readings that contradict each other leave an element to blame: for more than twice what they are apart.
bool stands(const hunt::BesideAll& all, double size);

/// Which branch costs more than the file says, and by how much; "" where none does.
std::string branch_sentence(const line::Line& line, const hunt::BesideAll& all, const Look& look);

/// A table of what was read with one branch off and with none, "" where there is nothing.
std::string branches_beside(const line::Line& line, const hunt::BesideAll& all, const Look& look);

}  // namespace airtally::report
