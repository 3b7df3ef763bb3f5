#include "hunt/beliefs/plate.hpp"

#include <algorithm>
#include <cmath>

namespace airtally::hunt {
namespace {

constexpr double usual_discharge = 0.72;  ///< of laws::hole()
constexpr double by_edge = 0.106;         ///< standard deviation of ln Cd: ln(0.85/0.6) over twice 1.645
constexpr double by_drill = 0.04;         ///< of ln area: twice the diameter's 2 %

}  // namespace

Prior plate_prior(const Bench& bench) {
  double middle = 1.0, edge = by_edge;
  if (bench.discharge) {
    middle = bench.discharge->value / usual_discharge;
    edge = bench.discharge->standard_deviation() / bench.discharge->value;
  }
  return {Prior::Shape::log_normal, middle, std::hypot(edge, by_drill)};
}

std::vector<double> plates_of(std::span<const Reading> readings) {
  std::vector<double> all;
  for (const Reading& reading : readings)
    if (reading.setting.cap && reading.setting.hole > 0.0) all.push_back(reading.setting.hole);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

}  // namespace airtally::hunt
