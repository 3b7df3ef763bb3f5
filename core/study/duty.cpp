#include "study/duty.hpp"

#include <algorithm>

#include "errors.hpp"
#include "line/topology.hpp"

namespace airtally::study {

double weakest_vacuum(const solve::SteadyAnswer& answer) {
  if (answer.tips.empty()) throw DomainError("The weakest vacuum is asked of a line that has no tip.");
  double least = answer.tips.front().tip_vacuum();
  for (const solve::Tip& tip : answer.tips) least = std::min(least, tip.tip_vacuum());
  return least;
}

std::optional<double> pump_duty(const line::Line& line, double vacuum) {
  line::topology(line);  // complains of a line without a nozzle
  line::Line slower = line;
  const auto enough = [&](double factor) {
    for (std::size_t i = 0; i < line.elements.size(); ++i)
      if (line.elements[i].pump) slower.elements[i].pump->speed = line.elements[i].pump->speed.value * factor;
    return weakest_vacuum(solve::steady(slower, solve::all_tips(line, solve::TipState::part))) >= vacuum;
  };
  if (!enough(1.0)) return std::nullopt;
  double low = 0.0, high = 1.0;
  while (high - low > 1e-3 * high && high > 1e-6) {
    const double middle = low > 0.0 ? 0.5 * (low + high) : 0.25 * high;
    (enough(middle) ? high : low) = middle;
  }
  return high;
}

}  // namespace airtally::study
