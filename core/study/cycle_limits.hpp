#pragma once
#include <vector>

#include "study/cycle.hpp"

namespace airtally::study {

/// The same line with one thing better, and how to say it.
struct Better {
  CycleGain gain;   ///< its gain still 0
  line::Line line;  ///< the line with that better
};

/// One line for each thing that may hold up the safe lift: a valve without its delay, a valve of a hundred times the
/// conductance, a source of twice the flow, any other element (but the nozzle, which the part needs) without leak and
/// restriction.
std::vector<Better> better_lines(const line::Line& line);

}  // namespace airtally::study
