#include "hunt/priors.hpp"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <numbers>

#include "gas/air.hpp"

// Where the numbers come from: common practice, no source. Orders of magnitude that the trade agrees on: a new push-in
// fitting leaks 0.01 to 1 mL/min of free air, one with a scored tube 2 to 30, a lip seal 0.01 to 5 when new and 5 to
// 100 when worn, a clearance joint 5 to 500, a filter is changed when its drop has grown two- to tenfold, a small
// pump loses 10 to 20 % of its flow warm and 20 to 50 % with worn valves. The spreads are wide on purpose: two factors
// of ten within one and a half standard deviations upwards, since a hunt is only begun when something is wrong.

namespace airtally::hunt {
namespace {

using Shape = Prior::Shape;
using units::Quantity;
using units::Spread;

constexpr double ml_min = 1e-6 / 60.0 * gas::free_air_density;  // [kg/s]
constexpr double z_limit = 6.0;

double phi(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }
double density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi); }
double softplus(double x) { return x > 30.0 ? x : std::log1p(std::exp(x)); }
double phi_inverse(double p) {
  if (p < phi(-z_limit)) return -z_limit;
  if (p > phi(z_limit)) return z_limit;
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * p);
}

/// A factor on a flow that goes with the `power` of a quantity known as the file says.
Prior from_tolerance(const Quantity& q, double power, double exact_log_sd) {
  if (q.value <= 0.0 || q.is_exact()) return {Shape::log_normal, 1.0, exact_log_sd};
  if (q.spread == Spread::uniform && q.low > 0.0) return {Shape::range, q.value, 0.0, q.low, q.high, power};
  // A dimension can't be negative: the normal tolerance becomes a log-normal one of the same relative size.
  return {Shape::log_normal, 1.0, power * q.standard_deviation() / q.value};
}

struct LeakTolerance {
  static constexpr double exact = 1.7;
  Prior operator()(const line::Hole& leak) const { return from_tolerance(leak.diameter, 2.0, exact); }
  Prior operator()(const line::Clearance& leak) const { return from_tolerance(leak.gap, 3.0, exact); }
  Prior operator()(const line::RatedLeak& leak) const { return from_tolerance(leak.flow, 1.0, exact); }
};

}  // namespace

double Prior::at(double z) const {
  switch (shape) {
    case Shape::log_normal:
      return middle * std::exp(spread * z);
    case Shape::range:
      return std::pow((low + (high - low) * phi(z)) / middle, power);
    case Shape::wear:
      return top * std::exp(-middle * std::exp(spread * z));
    case Shape::soft_wear:
      return top * std::exp(-middle * softplus(spread * z) / std::numbers::ln2);
    case Shape::normal:
      return middle + spread * z;
  }
  return middle;
}

double Prior::slope(double z, double value) const {
  switch (shape) {
    case Shape::log_normal:
      return spread * value;
    case Shape::range:
      return power * value * (high - low) * density(z) / (low + (high - low) * phi(z));
    case Shape::wear:
      return -spread * middle * std::exp(spread * z) * value;
    case Shape::soft_wear:
      return -middle * spread / (std::numbers::ln2 * (1.0 + std::exp(-spread * z))) * value;
    case Shape::normal:
      return spread;
  }
  return 0.0;
}

double Prior::z_of(double value) const {
  double z = 0.0;
  switch (shape) {
    case Shape::log_normal:
      z = spread > 0.0 ? std::log(std::max(value, 1e-300) / middle) / spread : 0.0;
      break;
    case Shape::range:
      z = phi_inverse((middle * std::pow(value, 1.0 / power) - low) / (high - low));
      break;
    case Shape::wear: {
      const double x = -std::log(std::clamp(value / top, 1e-300, 1.0));
      z = x > 0.0 ? std::log(x / middle) / spread : -z_limit;
      break;
    }
    case Shape::soft_wear: {
      const double x = -std::log(std::clamp(value / top, 1e-300, 1.0)) * std::numbers::ln2 / middle;
      z = x > 0.0 ? std::log(std::expm1(std::min(x, 500.0))) / spread : -z_limit;
      break;
    }
    case Shape::normal:
      z = spread > 0.0 ? (value - middle) / spread : 0.0;
      break;
  }
  return std::clamp(z, -z_limit, z_limit);
}

HealthyLeak healthy_leak(line::Kind kind) {
  using line::Kind;
  switch (kind) {
    case Kind::rotary:
      return {5.0 * ml_min, 2.0};
    case Kind::pump:
    case Kind::ejector:
      return {0.5 * ml_min, 2.0};
    case Kind::spindle:
    case Kind::plug:
      return {0.1 * ml_min, 2.3};
    case Kind::nozzle:
      return {0.2 * ml_min, 2.0};
    default:
      return {0.3 * ml_min, 2.3};  // what is joined by fittings
  }
}

double leak_vacuum(const gas::Site& site) { return site.pressure >= 70e3 ? 60e3 : 0.6 * site.pressure; }

Prior leak_prior(const line::Element& element) {
  if (element.leaks.size() == 1) return std::visit(LeakTolerance{}, element.leaks.front());
  // The widest of several: their sum goes with the largest, and which that is the file need not know.
  Prior widest{Shape::log_normal, 1.0, 0.0};
  for (const line::Leak& leak : element.leaks) {
    Prior prior = std::visit(LeakTolerance{}, leak);
    if (prior.shape == Shape::range)
      prior = {Shape::log_normal, 1.0, prior.power * std::log(prior.high / prior.low) / std::sqrt(12.0)};
    if (prior.spread > widest.spread) widest = prior;
  }
  return widest;
}

Prior blockage_prior(line::Kind kind) {
  using line::Kind;
  // -ln(open fraction): its median and the standard deviation of its logarithm.
  switch (kind) {
    case Kind::filter:
      return {Shape::wear, 0.2, 1.3};
    case Kind::nozzle:
      return {Shape::wear, 0.1, 1.3};
    case Kind::valve:
    case Kind::check_valve:
    case Kind::spindle:
      return {Shape::wear, 0.05, 1.3};
    default:
      return {Shape::wear, 0.03, 1.3};
  }
}

Prior seal_prior(const line::Part& part) { return from_tolerance(part.gap, 3.0, 0.5); }

Prior pump_flow_prior(const line::Pump& pump) {
  if (pump.speed.is_exact()) return {Shape::log_normal, 0.95, 0.12};
  return from_tolerance(pump.speed, 1.0, 0.12);
}

Prior pump_vacuum_prior(const line::Pump& pump) {
  // A curve read a little low, or a pump a little better than its sheet, but never below zero pressure.
  const double last = pump.flow.empty() ? 0.0 : pump.flow.back().vacuum.value;
  const double top = last > 0.0 ? std::min(1.01, 0.9999 * gas::standard_pressure / last) : 1.01;
  return {Shape::soft_wear, 0.02, 1.5, 0.0, 0.0, 1.0, top};
}

}  // namespace airtally::hunt
