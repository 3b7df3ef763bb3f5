#include "line/meters.hpp"

#include <algorithm>
#include <cmath>

namespace airtally::line {

double gauge_step(const Element& element) {
  return element.gauge && element.gauge->resolution.value > 0.0 ? element.gauge->resolution.value : usual_gauge_step;
}

double highest(const std::vector<CurvePoint>& curve) {
  double top = 0.0;
  for (const CurvePoint& point : curve) top = std::max(top, point.value.value);
  return top;
}

double ammeter_step(const Element& source) {
  return source.pump ? usual_ammeter_share * highest(source.pump->current) : 0.0;
}

double least_shown(double step) { return 3.0 * std::sqrt(2.0 * (1.0 / 12.0 + 1.0 / 4.0)) * step; }

}  // namespace airtally::line
