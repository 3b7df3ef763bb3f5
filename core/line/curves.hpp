#pragma once
#include <optional>
#include <vector>

#include "gas/site.hpp"
#include "laws/pump_curve.hpp"
#include "line/element.hpp"

namespace airtally::line {

/// The points of a pump's curve as the laws take them, at their nominal values.
std::vector<laws::CurvePoint> law_points(const std::vector<CurvePoint>& points);

/// What the motor of a source draws at an inlet pressure [Pa, absolute], in amperes; none where its curve of current is
/// not known, and for what is no source. Throws DomainError as laws::CurrentCurve does.
std::optional<double> current_at(const Element& source, const gas::Site& site, double pressure);

}  // namespace airtally::line
