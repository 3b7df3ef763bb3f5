#include "agreement/own_laws.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace airtally::agreement::own {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double gas_constant = 287.05;  // dry air, US Standard Atmosphere 1976
constexpr double kappa = 1.4;

/// The root of a falling function between two ends; the end it leans to if it has none there. Chords that halve an end
/// that stays (Dowell and Jarratt, BIT 11 (1971) 168: "Illinois"), bisection where they gain too little.
double falling_root(const std::function<double(double)>& f, double low, double high) {
  double at_low = f(low), at_high = f(high);
  if (!(at_low > 0.0)) return low;
  if (at_high > 0.0) return high;
  int side = 0;
  for (int i = 0; i < 200 && high - low > 4e-16 * high; ++i) {
    double middle = (low * at_high - high * at_low) / (at_high - at_low);
    if (i % 6 == 5 || !(middle > low && middle < high)) middle = 0.5 * (low + high);
    const double value = f(middle);
    if (value == 0.0) return middle;
    if (value > 0.0) {
      low = middle, at_low = value;
      if (side == 1) at_high *= 0.5;
      side = 1;
    } else {
      high = middle, at_high = value;
      if (side == -1) at_low *= 0.5;
      side = -1;
    }
  }
  return 0.5 * (low + high);
}

/// Churchill, Chem. Eng., 7 Nov 1977, p. 91, as printed, the laminar term divided by the first-order slip factor.
double churchill(double re, double relative_roughness, double kn) {
  const double a = std::pow(2.457 * std::log(1.0 / (std::pow(7.0 / re, 0.9) + 0.27 * relative_roughness)), 16.0);
  const double b = std::pow(37530.0 / re, 16.0);
  const double laminar = 8.0 / re / (1.0 + 8.0 * kn);
  if (re < 100.0) return 8.0 * laminar;  // the rest is nothing there, and overflows
  return 8.0 * std::pow(std::pow(laminar, 12.0) + std::pow(a + b, -1.5), 1.0 / 12.0);
}

/// Either direction of a law given for p1 > p2.
Flow odd(const std::function<double(double, double, bool)>& law) {
  return [law](double p1, double p2) {
    if (p1 == p2) return 0.0;
    return p1 > p2 ? law(p1, p2, true) : -law(p2, p1, false);
  };
}

}  // namespace

Air::Air(double temperature)
    : t(temperature),
      rt(gas_constant * t),
      // Sutherland: 1.716e-5 Pa s at 273.15 K, constant 110.4 K.
      mu(1.716e-5 * std::pow(t / 273.15, 1.5) * (273.15 + 110.4) / (t + 110.4)),
      slip(mu * std::sqrt(pi * rt / 2.0)) {}

Flow duct(double bore, double length, double roughness, double k_forward, double k_back, const Air& air) {
  const double area = pi / 4.0 * bore * bore;
  return odd([=](double p1, double p2, bool forward) {
    const double k = forward ? k_forward : k_back;
    // The flux that leaves at pressure pe: p1^2 - pe^2 = G^2 R T (f L/D + K + 2 ln(p1/pe)).
    const auto flux_to = [&](double pe) {
      const double kn = air.slip / (0.5 * (p1 + pe)) / bore;
      const auto left = [&](double g) {
        const double f = churchill(g * bore / air.mu, roughness / bore, kn);
        return (p1 - pe) * (p1 + pe) - g * g * air.rt * (f * length / bore + k + 2.0 * std::log(p1 / pe));
      };
      return falling_root(left, 1e-12 * p1 / std::sqrt(air.rt), p1 / std::sqrt(air.rt));
    };
    const double plain = flux_to(p2);
    // Choked where a lower exit pressure brings no more; then golden section for the largest flux.
    if (flux_to(p2 + 1e-4 * (p1 - p2)) <= plain) return area * plain;
    constexpr double golden = 0.6180339887498949;
    double low = p2, high = p1, c = high - golden * (high - low), d = low + golden * (high - low);
    double at_c = flux_to(c), at_d = flux_to(d);
    for (int i = 0; i < 26; ++i) {
      if (at_c > at_d) {
        high = d, d = c, at_d = at_c, c = high - golden * (high - low), at_c = flux_to(c);
      } else {
        low = c, c = d, at_c = at_d, d = low + golden * (high - low), at_d = flux_to(d);
      }
    }
    return area * std::max({plain, at_c, at_d});
  });
}

Flow passage(double bore, double length, double roughness, double entrance, const Air& air) {
  const double area = pi / 4.0 * bore * bore, a = 0.5 * (kappa - 1.0), g1 = kappa / (kappa - 1.0);
  const double whole = std::max(length, bore / 1000.0);
  return odd([=](double p1, double p2, bool) {
    const auto inside = [&](double m) {  // static pressure just inside
      return p1 / (std::pow(1.0 + a * m * m, g1) + entrance * 0.5 * kappa * m * m);
    };
    const auto flux = [&](double m) { return inside(m) * m * std::sqrt(kappa * (1.0 + a * m * m) / air.rt); };
    // 4 f L*/D of the Fanno tables: the friction from Mach m to 1.
    const auto to_sonic = [&](double m) {
      const double y = m * m;
      return (1.0 - y) / (kappa * y) +
             (kappa + 1.0) / (2.0 * kappa) * std::log((kappa + 1.0) * y / (2.0 + (kappa - 1.0) * y));
    };
    const auto friction = [&](double m) {
      return churchill(flux(m) * bore / air.mu, roughness / bore, 0.0) * whole / bore;
    };
    // Highest Mach number just inside: the exit is sonic, or the inlet's own flux is largest.
    const double sonic = falling_root([&](double m) { return to_sonic(m) - friction(m); }, 1e-9, 1.0);
    const double peak = falling_root(
        [&](double m) {
          const double y = m * m;
          return std::pow(1.0 + a * y, g1) * (1.0 - y) - entrance * 0.5 * kappa * y;
        },
        1e-9, 1.0);
    const double most = std::min(sonic, peak);
    const auto leaves_at = [&](double m) {
      const double left = to_sonic(m) - friction(m);
      const double m2 = left <= 0.0 ? 1.0 : falling_root([&](double x) { return to_sonic(x) - left; }, m, 1.0);
      return inside(m) * m / m2 * std::sqrt((1.0 + a * m * m) / (1.0 + a * m2 * m2));
    };
    if (leaves_at(most) >= p2) return area * flux(most);
    return area * flux(falling_root([&](double m) { return leaves_at(m) - p2; }, 1e-9, most));
  });
}

Flow iso(double c, double b, const Air& air) {
  // ISO 6358-1 with free air of 1.185 kg/m3 at 293.15 K; above r = 0.999 a cubic with the root's value and slope there.
  const double factor = c * 1.185 * std::sqrt(293.15 / air.t);
  return odd([=](double p1, double p2, bool) {
    const auto root = [b](double r) { return std::sqrt(1.0 - std::pow((r - b) / (1.0 - b), 2.0)); };
    const double r = p2 / p1, x = (p1 - p2) / p1;
    if (r <= b) return factor * p1;
    if (r <= 0.999) return factor * p1 * root(r);
    const double x0 = 0.001, w0 = root(0.999), slope = (0.999 - b) / ((1.0 - b) * (1.0 - b)) / w0;
    const double c3 = (slope - w0 / x0) / (2.0 * x0 * x0), c1 = w0 / x0 - c3 * x0 * x0;
    return factor * p1 * (c1 * x + c3 * x * x * x);
  });
}

Flow hole(double diameter, double discharge, const Air& air) {
  // Choked isentropic flow m = 0.040418 Cd A p1/sqrt(T); critical ratio 0.528.
  return iso(0.040418 * discharge * pi / 4.0 * diameter * diameter / (1.185 * std::sqrt(293.15)), 0.528, air);
}

namespace {

/// Friction, resistance m/(1 + 6 Kn) = p1^2 - p2^2 by itself, in series with velocity heads at the low end's density;
/// below the low end at which most passes, as much as there.
Flow slot(double resistance, double gap, double heads, double area, const Air& air) {
  return odd([=](double p1, double p2, bool) {
    const auto passes = [&](double p) {
      const double kn = air.slip / (0.5 * (p1 + p)) / gap, drive = (p1 - p) * (p1 + p);
      const auto lacks = [&](double m) {
        const double speed = m * air.rt / p / area, head = heads * 0.5 * (p / air.rt) * speed * speed;
        return drive - resistance * m / (1.0 + 6.0 * kn) - head * (p1 + p);
      };
      return falling_root(lacks, 0.0, drive / resistance * (1.0 + 6.0 * kn));
    };
    double low = p2, high = p1;
    for (int i = 0; i < 200; ++i) {
      const double third = (high - low) / 3.0;
      if (passes(low + third) < passes(high - third))
        low += third;
      else
        high -= third;
    }
    return std::max(passes(p2), passes(0.5 * (low + high)));
  });
}

}  // namespace

Flow clearance(double gap, double diameter, double length, double eccentricity, const Air& air) {
  const double k = pi * diameter * std::pow(gap, 3.0) * (1.0 + 1.5 * eccentricity * eccentricity) /
                   (24.0 * air.mu * air.rt * length);
  return slot(1.0 / k, gap, 54.0 / 35.0 + 0.5, pi * diameter * gap, air);
}

Flow face_gap(double gap, double inner, double outer, const Air& air) {
  const double k = pi * std::pow(gap, 3.0) / (12.0 * air.mu * air.rt * std::log(outer / inner));
  return slot(1.0 / k, gap, 54.0 / 35.0, 2.0 * pi * inner * gap, air);
}

Flow rated(double m, double p1, double p2) {
  const double k = m / (p1 * p1 - p2 * p2);
  return [k](double a, double b) { return k * (a - b) * (a + b); };
}

Flow rated_orifice(double m, double p1, double p2, const Air& air) {
  const double unit = iso(1.0, 0.528, Air(293.15))(p1, p2);
  return iso(m / unit, 0.528, air);
}

Flow one_way(double c, double b, double cracking, const Air& air) {
  const Flow open = iso(c, b, air);
  return [=](double p1, double p2) { return p1 - cracking > p2 ? open(p1 - cracking, p2) : 0.0; };
}

Pull pump(std::vector<std::pair<double, double>> points, double speed, double ambient, double temperature) {
  if (points.size() != 2 && points.size() != 3) throw std::invalid_argument("two or three points");
  const double scale = ambient / 101325.0;
  const auto flow_at = [points](double v) {
    if (v <= points.front().first) return points.front().second;
    if (v >= points.back().first) return 0.0;
    if (points.size() == 2)
      return points[0].second * (1.0 - (v - points[0].first) / (points[1].first - points[0].first));
    // Fritsch and Butland's cubic (SIAM J. Sci. Stat. Comput. 5 (1984) 300) with three-point ends; at the last point
    // no flatter than the last chord.
    const double h0 = points[1].first - points[0].first, h1 = points[2].first - points[1].first;
    const double d0 = (points[1].second - points[0].second) / h0, d1 = (points[2].second - points[1].second) / h1;
    const double w0 = 2.0 * h1 + h0, w1 = h1 + 2.0 * h0;
    const double middle = (w0 + w1) / (w0 / d0 + w1 / d1);
    const auto end = [](double near, double far, double chord, double other) {
      const double s = ((2.0 * near + far) * chord - near * other) / (near + far);
      if (s * chord <= 0.0) return 0.0;
      return std::fabs(s) > 3.0 * std::fabs(chord) ? 3.0 * chord : s;
    };
    const double first = end(h0, h1, d0, d1);
    double last = end(h1, h0, d1, d0);
    if (std::fabs(last) < std::fabs(d1)) last = d1;
    const bool front = v < points[1].first;
    const double h = front ? h0 : h1, t = (v - points[front ? 0 : 1].first) / h;
    const double y0 = points[front ? 0 : 1].second, y1 = points[front ? 1 : 2].second;
    const double s0 = front ? first : middle, s1 = front ? middle : last;
    return y0 * (1.0 + 2.0 * t) * (1.0 - t) * (1.0 - t) + h * s0 * t * (1.0 - t) * (1.0 - t) +
           y1 * t * t * (3.0 - 2.0 * t) - h * s1 * t * t * (1.0 - t);
  };
  return [=](double p) { return speed * scale * (293.15 / temperature) * flow_at((ambient - p) / scale); };
}

}  // namespace airtally::agreement::own
