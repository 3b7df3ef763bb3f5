#pragma once
#include "line/element.hpp"

/// What a usual instrument shows, where the file does not say: common practice, no source.
namespace airtally::line {

inline constexpr double usual_gauge_accuracy = 1e3;   ///< of a vacuum gauge, two standard deviations [Pa]
inline constexpr double usual_gauge_step = 100.0;     ///< of a vacuum gauge's display [Pa]
inline constexpr double usual_ammeter_share = 0.002;  ///< an ammeter's step, of the curve's highest current [-]

/// Step of the display of the gauge that the element carries; the usual one where it carries none or none is
/// stated [Pa] > 0.
double gauge_step(const Element& element);

/// The highest value of a curve, flow [kg/s] or current [A]; 0 of an empty one.
double highest(const std::vector<CurvePoint>& curve);

/// Step of the display of a usual ammeter at a source [A]; 0 where its current is not known.
double ammeter_step(const Element& source);

/// The least difference of two readings that is one: three standard deviations, each reading being rounded to a step of
/// the display and good to repeat within one, 3 sqrt(2 (1/12 + 1/4)) = 2.45 steps. Same unit as `step`.
double least_shown(double step);

}  // namespace airtally::line
