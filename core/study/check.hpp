#pragma once
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/answer.hpp"

namespace airtally::study {

/// One warning about a line: which element, and a sentence with the size of the effect.
struct Warning {
  std::size_t element = 0;  ///< index into the line
  std::string sentence;     ///< names the element; ends with a full stop
};

/// Everything worth a warning in the line as it is: a law beyond its range (law_limits.hpp), a soft tube that
/// would flatten, a part larger than the nozzle spacing, a choked passage or duct, a gauge out of range, a closed valve
/// that cuts off a nozzle, an open end taken as plugged. Solves the line with the tips open and (if the file has one)
/// with the part. In line order; empty when all is well. Throws BadInput, NoConvergence.
std::vector<Warning> warnings(const line::Line& line);

}  // namespace airtally::study
