#pragma once
#include <optional>

#include "line/line.hpp"
#include "solve/answer.hpp"

namespace airtally::study {

/// The least tip_vacuum() of any tip in that answer [Pa], so of a place that hangs on the state: not to be compared
/// between states. Throws DomainError when it has no tip.
double weakest_vacuum(const solve::SteadyAnswer& answer);

/// Part of its time [-], above 0 to 1, that the pump has to run so that every tip, part on, keeps `vacuum` [Pa]: the
/// least factor on its flow with which each still has it at rest, to 0.1 % of it. What a pump gives in a share of its
/// time a slower one gives all the time, as long as the line's volume evens it out. None: not even all the time is
/// enough. Throws BadInput (no nozzle), NoConvergence.
std::optional<double> pump_duty(const line::Line& line, double vacuum);

}  // namespace airtally::study
