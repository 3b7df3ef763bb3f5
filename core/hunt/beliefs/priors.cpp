#include "hunt/beliefs/priors.hpp"

#include <algorithm>
#include <cmath>

#include "gas/air.hpp"

// Where the numbers come from: common practice, no source. Orders of magnitude that the trade agrees on: a new push-in
// fitting leaks 0.01 to 1 mL/min of free air, one with a scored tube 2 to 30, a lip seal 0.01 to 5 when new and 5 to
// 100 when worn, a clearance joint 5 to 500, a filter is changed when its drop has grown two- to tenfold, a trap
// stays nearly as open as it was until its bowl is full and then closes, so little is known of how far it has, a
// tube's bore is held to some hundredths of a millimetre per millimetre, a small pump loses 10 to 20 % of its flow warm
// and 20 to 50 % with worn valves.
//
// That is the whole ones. A hunt is only begun when something is wrong, so one in twenty-five of all is damaged (a tube
// that has come loose, a seal that is missing, a crack, a valve leaf that has broken), whatever the file's tolerance
// says of the whole: of a thousand, the worst leaks like an open end.

namespace airtally::hunt {
namespace {

using Shape = Prior::Shape;
using units::Quantity;
using units::Spread;

constexpr double ml_min = 1e-6 / 60.0 * gas::free_air_density;  // [kg/s]

// E-folds of damage per unit of z beyond the one in twenty-five; one in a thousand lies 1.34 units beyond.
/// A leak within a range or tolerance: times 3000 at one in a thousand. Of a part's seal that is a gap 14 times as
/// wide.
constexpr double damage_of_known = 6.0;
constexpr double damage_of_wide = 4.0;  ///< a leak of which little is known has grown on the way: times 200 more
/// A long bore: a third of the file's at one in a thousand, as when a 1.5 mm tube hangs where the file has 4 mm.
constexpr double damage_of_bore = -0.8;
constexpr double damage_of_pump = -1.0;  ///< a quarter of the flow is left at one in a thousand

/// A factor on a flow that goes with the `power` of a quantity known as the file says.
Prior from_tolerance(const Quantity& q, double power, double exact_log_sd) {
  if (q.value <= 0.0 || q.is_exact()) return {Shape::log_normal, 1.0, exact_log_sd};
  if (q.spread == Spread::uniform && q.low > 0.0) return {Shape::range, q.value, 0.0, q.low, q.high, power};
  // A dimension can't be negative: the normal tolerance becomes a log-normal one of the same relative size.
  return {Shape::log_normal, 1.0, power * q.standard_deviation() / q.value};
}

struct LeakTolerance {
  Prior operator()(const line::Hole& leak) const { return of(leak.diameter, 2.0); }
  Prior operator()(const line::Clearance& leak) const { return of(leak.gap, 3.0); }
  Prior operator()(const line::RatedLeak& leak) const {
    const Prior prior = of(leak.flow, 1.0);
    // A leak that was measured, with what its measuring may be off by, is taken at its word.
    return leak.flow.spread == Spread::normal ? prior.damaged(0.0) : prior;
  }

  static Prior of(const Quantity& q, double power) {
    constexpr double exact = 1.7;
    const bool wide = q.value <= 0.0 || q.is_exact();
    return from_tolerance(q, power, exact).damaged(wide ? damage_of_wide : damage_of_known);
  }
};

}  // namespace

HealthyLeak healthy_leak(line::Kind kind) {
  using line::Kind;
  switch (kind) {
    case Kind::rotary:
      return {5.0 * ml_min, 1.5};
    case Kind::pump:
    case Kind::ejector:
      return {0.5 * ml_min, 1.5};
    case Kind::spindle:
    case Kind::plug:
      return {0.1 * ml_min, 1.7};
    case Kind::nozzle:
      return {0.2 * ml_min, 1.5};
    case Kind::tube:
    case Kind::coupler:
    case Kind::valve:
    case Kind::filter:
    case Kind::trap:
    case Kind::check_valve:
    case Kind::tee:
    case Kind::reservoir:
      break;  // what is joined by fittings
  }
  return {0.3 * ml_min, 1.7};
}

Prior healthy_leak_prior(line::Kind kind) {
  return Prior{Shape::log_normal, 1.0, healthy_leak(kind).log_sd}.damaged(damage_of_wide);
}

double leak_vacuum(const gas::Site& site) { return site.pressure >= 70e3 ? 60e3 : 0.6 * site.pressure; }

Prior leak_prior(const line::Element& element) {
  if (element.leaks.size() == 1) return std::visit(LeakTolerance{}, element.leaks.front());
  // The widest of several: their sum goes with the largest, and which that is the file need not know.
  const auto width = [](const Prior& prior) {
    return prior.shape == Shape::range ? prior.power * std::log(prior.high / prior.low) / std::sqrt(12.0)
                                       : prior.spread;
  };
  Prior widest{Shape::log_normal, 1.0, 0.0};
  for (const line::Leak& leak : element.leaks)
    if (const Prior prior = std::visit(LeakTolerance{}, leak); width(prior) > width(widest)) widest = prior;
  return widest;
}

Prior blockage_prior(line::Kind kind) {
  using line::Kind;
  // -ln(open fraction): its median and the standard deviation of its logarithm.
  switch (kind) {
    case Kind::filter:
      return {Shape::wear, 0.2, 1.5};
    case Kind::trap:
      return {Shape::wear, 0.1, 2.0};
    case Kind::nozzle:
      return {Shape::wear, 0.1, 1.5};
    case Kind::valve:
    case Kind::check_valve:
    case Kind::spindle:
      return {Shape::wear, 0.05, 1.5};
    case Kind::tube:
    case Kind::coupler:
    case Kind::rotary:
      break;
    case Kind::pump:  // nothing restricts these: nobody asks
    case Kind::ejector:
    case Kind::tee:
    case Kind::reservoir:
    case Kind::plug:
      break;
  }
  return {Shape::wear, 0.03, 1.5};
}

const line::Bore* long_bore(const line::Element& element) {
  constexpr double bores = 20.0;
  const auto* bore = std::get_if<line::Bore>(&element.restriction);
  const bool is_long = bore && element.kind != line::Kind::nozzle && bore->length.value >= bores * bore->bore.value;
  return is_long ? bore : nullptr;
}

Prior bore_prior(const line::Bore& bore) {
  constexpr double exact = 0.015;
  return from_tolerance(bore.bore, 1.0, exact).damaged(damage_of_bore);
}

Prior hole_share_prior() { return {Shape::range, 1.0, 0.0, 0.0, 1.0, 1.0}; }

Prior seal_prior(const line::Part& part) { return from_tolerance(part.gap, 3.0, 0.5).damaged(damage_of_known); }

Prior pump_flow_prior(const line::Pump& pump) {
  if (pump.speed.is_exact()) return Prior{Shape::log_normal, 0.95, 0.12}.damaged(damage_of_pump);
  return from_tolerance(pump.speed, 1.0, 0.12).damaged(damage_of_pump);
}

Prior pump_vacuum_prior(const line::Pump& pump) {
  // A curve read a little low, or a pump a little better than its sheet, but never below zero pressure. There is no
  // damage to it: valves that let air back draw down what a pump pulls as a leak at its port does, and count as that.
  const double last = pump.flow.empty() ? 0.0 : pump.flow.back().vacuum.value;
  const double top = last > 0.0 ? std::min(1.01, 0.9999 * gas::standard_pressure / last) : 1.01;
  return {Shape::soft_wear, 0.02, 1.5, 0.0, 0.0, 1.0, top};
}

}  // namespace airtally::hunt
