#include "hunt/beliefs/prior.hpp"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <numbers>

namespace airtally::hunt {
namespace {

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

constexpr double z_limit = 6.0;
constexpr double onset = damage_onset;
constexpr double blur = 0.15;  ///< over which the whole go over into the damaged

double phi(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }
double density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi); }
double softplus(double x) { return x > 30.0 ? x : std::log1p(std::exp(x)); }
double phi_inverse(double p) {
  if (p < phi(-z_limit)) return -z_limit;
  if (p > phi(z_limit)) return z_limit;
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * p, InDouble());
}
double logistic(double x) { return x >= 0.0 ? 1.0 / (1.0 + std::exp(-x)) : std::exp(x) / (1.0 + std::exp(x)); }

/// E-folds of damage per unit of `damage`, at x on the side of the damaged, and their slope.
double growth(double x) { return blur * softplus((x - onset) / blur); }
double growth_slope(double x) { return logistic((x - onset) / blur); }

}  // namespace

double Prior::whole(double z) const {
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

double Prior::whole_slope(double z, double value) const {
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

double Prior::whole_z_of(double value) const {
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

double Prior::side() const {
  const bool falls = shape == Shape::wear || shape == Shape::soft_wear || (shape == Shape::range && power < 0.0);
  return (damage < 0.0) == falls ? 1.0 : -1.0;
}

std::pair<double, double> Prior::ends() const {
  if (shape != Shape::range) return {middle, middle};
  return std::minmax({std::pow(low / middle, power), std::pow(high / middle, power)});
}

Prior Prior::damaged(double e_folds) const {
  Prior other = *this;
  other.damage = e_folds;
  return other;
}

double Prior::at(double z) const {
  if (damage == 0.0) return whole(z);
  const double grown = damage * growth(side() * z);
  return shape == Shape::log_normal ? middle * std::exp(spread * z + grown) : whole(z) * std::exp(grown);
}

double Prior::slope(double z, double value) const {
  if (damage == 0.0) return whole_slope(z, value);
  const double x = side() * z, of_damage = value * damage * side() * growth_slope(x);
  if (shape == Shape::log_normal) return spread * value + of_damage;
  const double factor = std::exp(damage * growth(x));
  return factor * whole_slope(z, value / factor) + of_damage;
}

double Prior::z_of(double value) const {
  if (damage == 0.0) return whole_z_of(value);
  if (shape == Shape::log_normal) return damaged_z_of(std::log(std::max(value, 1e-300) / middle));
  double z = whole_z_of(value);
  // Newton's method on the logarithm, which the damaged make straight, within a bracket that shrinks.
  const double wanted = std::log(std::max(value, 1e-300));
  const bool rises = at(z_limit) > at(-z_limit);
  double left = -z_limit, right = z_limit;
  for (int step = 0; step < 100; ++step) {
    const double here = at(z), off = std::log(std::max(here, 1e-300)) - wanted;
    ((off < 0.0) == rises ? left : right) = z;
    double next = z - off * here / slope(z, here);
    if (!(next > left && next < right)) next = 0.5 * (left + right);
    if (std::fabs(next - z) < 1e-12) return next;
    z = next;
  }
  return z;
}

/// A sampler asks for the z of leaks by the million. The logarithm spread z + damage blur softplus(u) is two straight
/// lines with a bend between them, convex or concave, so that Newton's method from the line that lies beyond comes from
/// one side and needs no bracket.
double Prior::damaged_z_of(double wanted) const {
  const double s = side(), steep = spread + damage * s;
  double z = spread > 0.0 ? std::clamp(wanted / spread, -z_limit, z_limit) : 0.0;
  if (s * z > onset) z = std::clamp((wanted + damage * onset) / steep, -z_limit, z_limit);
  for (int step = 0; step < 100; ++step) {
    const double u = (s * z - onset) / blur, e = std::exp(-std::fabs(u));
    const double bend = std::max(u, 0.0) + std::log1p(e), logistic = u >= 0.0 ? 1.0 / (1.0 + e) : e / (1.0 + e);
    const double off = spread * z + damage * blur * bend - wanted;
    const double next = std::clamp(z - off / (spread + damage * s * logistic), -z_limit, z_limit);
    if (std::fabs(next - z) < 1e-12) return next;
    z = next;
  }
  return z;
}

}  // namespace airtally::hunt
