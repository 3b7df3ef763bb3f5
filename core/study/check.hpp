#pragma once
#include <span>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/answer.hpp"

namespace airtally::study {

/// What a warning is about, where one limit of an element is to be told once, whatever its numbers.
enum class About {
  other,       ///< anything else
  fast,        ///< flow in a gap too fast to be laminar
  slip,        ///< a passage so narrow that air slips along its walls
  transition,  ///< flow that may be laminar or turbulent
  outdone,     ///< a source against one that pulls deeper than it ever could
  unsealed,    ///< a nozzle without a rim, under which no gap of the part is counted
  left_open,   ///< a nozzle that the part does not close, taken to be open
  sealed,      ///< the same, taken to seal since it was asked for
  flattens     ///< a soft tube that the source's vacuum would flatten
};

/// One warning about a line: which element, and a sentence with the size of the effect.
struct Warning {
  std::size_t element = 0;     ///< index into the line
  std::string sentence;        ///< names the element; ends with a full stop
  About about = About::other;  ///< which limit
};

/// Everything worth a warning in the line as it is: a law beyond its range (law_limits.hpp), a soft tube that
/// would flatten, a part larger than the nozzle spacing or that does not close a nozzle's mouth, a choked passage or
/// duct, a gauge out of range, a closed valve that cuts off a nozzle, an open end taken as plugged. Solves the line
/// with the tips open and (if the file has one) with the part. In line order; empty when all is well. Throws BadInput,
/// also for a [cycle], [sensor] or seal that cycle(), sense() or hold() would refuse; NoConvergence.
std::vector<Warning> warnings(const line::Line& line);

/// Of other parts that the line may have to pick, those that close neither its own nozzles nor any of `nozzles`, which
/// may take their place: a warning each, of the first nozzle that stays open. Throws BadInput.
std::vector<Warning> misfits(const line::Line& line, std::span<const line::Part> parts,
                             std::span<const line::Element> nozzles);

}  // namespace airtally::study
