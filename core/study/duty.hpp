#pragma once
#include <cstddef>
#include <optional>
#include <span>

#include "line/line.hpp"

namespace airtally::study {

/// Part of its time [-], 0 to 1, that the source `at`, an index into the line, has to run so that every tip, part on,
/// keeps its need [Pa], one per nozzle: the least factor on its flow with which each still has it at rest, to 0.1 % of
/// it, the line's other sources running all the time; 0 where those do without it. No `at`: all sources run and rest
/// together. What a pump gives in a share of its time a slower one gives all the time, as long as the line's volume
/// evens it out. None: not even all the time is enough, or the part does not close a nozzle. Throws BadInput (no
/// nozzle), NoConvergence.
std::optional<double> pump_duty(const line::Line& line, std::span<const double> needs,
                                std::optional<std::size_t> at = {});

}  // namespace airtally::study
