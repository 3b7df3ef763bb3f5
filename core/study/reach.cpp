#include "study/reach.hpp"

#include <algorithm>

#include "line/seat.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "study/rise.hpp"

namespace airtally::study {

std::optional<double> slowest_reach(const line::Line& line, std::span<const double> needs, int segments) {
  if (!line::why_not_closed(line).empty()) return std::nullopt;
  const line::Line widest = line::at_widest_gap(line);
  const auto tips = solve::all_tips(widest, solve::TipState::part);
  double slowest = 0.0;
  for (std::size_t k = 0; k < tips.size(); ++k) {
    const auto reach = timing(widest, tips, k, needs[k], segments).reach;
    if (!reach) return std::nullopt;
    slowest = std::max(slowest, *reach);
  }
  return slowest;
}

PartTimes part_times(const line::Line& line, std::span<const double> needs, int segments) {
  const auto tips = solve::usual_tips(line);
  const bool sure = !line.part || line.part->gap.is_exact();
  PartTimes times;
  if (sure && line::why_not_closed(line).empty()) times.reach = 0.0;
  for (std::size_t k = 0; k < tips.size(); ++k) {
    const Timing time = timing(line, tips, k, needs[k], segments);
    times.settle = std::max(times.settle, time.settle);
    if (times.reach && time.reach)
      times.reach = std::max(*times.reach, *time.reach);
    else
      times.reach.reset();
  }
  if (!sure) times.reach = slowest_reach(line, needs, segments);
  return times;
}

}  // namespace airtally::study
