#pragma once
#include "study/pumps.hpp"
#include "study/question.hpp"

namespace airtally::study {

/// Whether each pump holds the part, with what to spare, and what a pump must give to hold it. The gap is that of the
/// sample; pumps of the catalogue stand at their middle values. Throws as pumps().
Question pumps_question(const line::Line& line, const PumpsOptions& options);

}  // namespace airtally::study
