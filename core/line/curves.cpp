#include "line/curves.hpp"

#include <algorithm>

#include "laws/current_curve.hpp"

namespace airtally::line {

std::vector<laws::CurvePoint> law_points(const std::vector<CurvePoint>& points) {
  std::vector<laws::CurvePoint> all(points.size());
  std::transform(points.begin(), points.end(), all.begin(), [](const CurvePoint& point) {
    return laws::CurvePoint{point.vacuum.value, point.value.value};
  });
  return all;
}

std::optional<double> current_at(const Element& source, const gas::Site& site, double pressure) {
  if (!source.pump || source.pump->current.empty()) return std::nullopt;
  return laws::CurrentCurve(law_points(source.pump->current), site).at(pressure).amperes;
}

}  // namespace airtally::line
