// The pump that would just do.
#include <algorithm>

#include "gas/air.hpp"
#include "laws/pump_curve.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "study/need.hpp"
#include "study/pumps.hpp"
#include "study/required_private.hpp"
#include "study/rise.hpp"

namespace airtally::study {
namespace {

constexpr double largest_free_flow =
    10000.0 * gas::free_air_density / 60e3;  ///< free flow that is tried at most [kg/s]
constexpr double near_nothing = 101000.0;    ///< vacuum at which a pump of constant speed is taken to end [Pa]

/// The line with a pump of that free flow, straight down to `deepest`; what the pump's own place holds and leaks stays.
line::Line with_straight(const line::Line& line, std::size_t at, double free_flow, double deepest) {
  line::Element pump = line.elements.at(at);
  pump.kind = line::Kind::pump;
  pump.pump = line::Pump{};
  pump.pump->flow = {{units::Quantity(0.0), units::Quantity(free_flow)},
                     {units::Quantity(deepest), units::Quantity(0.0)}};
  return with_pump(line, at, pump);
}

}  // namespace

std::optional<RequiredPoint> required_to_hold(const line::Line& line, std::size_t at, std::span<const double> needs) {
  const line::Line loose = line::at_widest_gap(line);
  const double scale = gas::standard_pressure / line.site.pressure;
  // A huge pump holds its inlet near the vacuum at which its curve ends; where exactly is read off the answer.
  const auto solved = [&](double deepest) {
    return solve::steady(with_straight(loose, at, largest_free_flow, deepest),
                         solve::all_tips(line, solve::TipState::part));
  };
  double low = 1.0, high = near_nothing;
  const auto enough = [&](double deepest) { return least_spare(solved(deepest), needs) >= 0.0; };
  if (!enough(high)) return std::nullopt;
  if (enough(low)) high = low;
  while (high - low > 1e-7 * high) {
    const double middle = 0.5 * (low + high);
    (enough(middle) ? high : low) = middle;
  }
  const solve::SteadyAnswer answer = solved(high);
  for (const solve::SourceState& source : answer.sources)
    if (source.element == at)
      return RequiredPoint{source.vacuum * scale,
                           source.flow * scale * line.site.temperature / laws::reading_temperature};
  return std::nullopt;
}

std::optional<double> required_in_time(const line::Line& line, std::size_t at, std::span<const double> needs,
                                       double time, int segments) {
  const line::Line loose = line::at_widest_gap(line);  // as the hold is judged, whose curve this goes into
  const auto in_time = [&](double free_flow) {
    const line::Line tried = with_straight(loose, at, free_flow, near_nothing);
    const auto tips = solve::all_tips(line, solve::TipState::part);
    for (std::size_t k = 0; k < tips.size(); ++k) {
      const auto reach = timing(tried, tips, k, needs[k], segments).reach;
      if (!reach || *reach > time) return false;
    }
    return true;
  };
  double high = gas::free_air_density / 60e3;
  while (!in_time(high)) {
    high *= 4.0;
    if (high > largest_free_flow) return std::nullopt;
  }
  double low = 0.0;
  while (high - low > 1e-3 * high && high > 1e-9) {
    const double middle = 0.5 * (low + high);
    (in_time(middle) ? high : low) = middle;
  }
  return high;
}

std::vector<RequiredPoint> required_curve(const RequiredPoint& hold, std::optional<double> speed_for_time) {
  constexpr int points = 9;
  std::vector<RequiredPoint> curve;
  curve.reserve(points);
  for (int i = 0; i < points; ++i) {
    const double vacuum = hold.vacuum * i / (points - 1);
    const double timely = speed_for_time ? *speed_for_time * (1.0 - vacuum / near_nothing) : 0.0;
    curve.push_back({vacuum, std::max(hold.flow, timely)});
  }
  return curve;
}

}  // namespace airtally::study
