#include "study/duty.hpp"

#include "line/seat.hpp"
#include "line/topology.hpp"
#include "solve/answer.hpp"
#include "study/need.hpp"

namespace airtally::study {

std::optional<double> pump_duty(const line::Line& line, std::span<const double> needs, std::optional<std::size_t> at) {
  line::topology(line);  // complains of a line without a nozzle
  if (!line::why_not_closed(line).empty()) return std::nullopt;
  const auto part = solve::all_tips(line, solve::TipState::part);
  constexpr double rest = 1e-9;  ///< factor on the flow of a source that does nothing
  line::Line slower = line;
  const auto enough = [&](double factor) {
    for (std::size_t i = 0; i < line.elements.size(); ++i)
      if (line.elements[i].pump && (!at || *at == i))
        slower.elements[i].pump->speed = line.elements[i].pump->speed.value * factor;
    return least_spare(solve::steady(slower, part), needs) >= 0.0;
  };
  if (!enough(1.0)) return std::nullopt;
  if (at && enough(rest)) return 0.0;
  double low = 0.0, high = 1.0;
  while (high - low > 1e-3 * high && high > 1e-6) {
    const double middle = low > 0.0 ? 0.5 * (low + high) : 0.25 * high;
    (enough(middle) ? high : low) = middle;
  }
  return high;
}

}  // namespace airtally::study
