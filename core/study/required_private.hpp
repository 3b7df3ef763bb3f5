#pragma once
#include <optional>
#include <span>
#include <vector>

#include "study/pumps.hpp"

namespace airtally::study {

/// Where the pump `at` has to work so that every tip, part on at the widest gap, has what it needs [Pa], one of `needs`
/// per nozzle: its inlet's vacuum and flow, as read at 101,325 Pa and 20 C. None when no vacuum there is enough.
std::optional<RequiredPoint> required_to_hold(const line::Line& line, std::size_t at, std::span<const double> needs);

/// Free flow of the pump of constant speed that gives every tip, part on at the widest gap, its need [Pa] within `time`
/// [s] from ambient, as read at 101,325 Pa and 20 C [kg/s]. `segments`: pieces of long tubes, 1 or more. None when no
/// pump of 10,000 L/min does.
std::optional<double> required_in_time(const line::Line& line, std::size_t at, std::span<const double> needs,
                                       double time, int segments);

/// The least flow at each vacuum that does both.
std::vector<RequiredPoint> required_curve(const RequiredPoint& hold, std::optional<double> speed_for_time);

}  // namespace airtally::study
