#include "study/inertia.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "gas/air.hpp"
#include "line/variant.hpp"
#include "study/rise.hpp"

namespace airtally::study {
namespace {

using line::none;

constexpr double worth_saying = 0.02;  ///< of the settle time

/// Time over theta after which the step answer of 1/(1 + 2 zeta s + s^2) stays within the band.
double settle_over_theta(double zeta) {
  // What is still missing at time x.
  const auto missing = [zeta](double x) {
    if (zeta < 1.0) {
      const double w = std::sqrt((1.0 - zeta) * (1.0 + zeta));
      return std::exp(-zeta * x) * (std::cos(w * x) + zeta / w * std::sin(w * x));
    }
    const double r = std::sqrt((zeta - 1.0) * (zeta + 1.0));
    if (r < 1e-4) return (1.0 + x) * std::exp(-x);
    const double slow = 1.0 / (zeta + r), fast = zeta + r;
    return (fast * std::exp(-slow * x) - slow * std::exp(-fast * x)) / (2.0 * r);
  };
  double from = 0.0, to = 8.0 * (zeta + 1.0), level = settle_band;
  if (zeta < 1.0) {
    // Extremes lie at w x = k pi, with the value (-1)^k e^(-zeta x): the last one beyond the settle_band is where to
    // start.
    const double w = std::sqrt((1.0 - zeta) * (1.0 + zeta));
    const double k = std::floor(-std::log(settle_band) * w / (zeta * std::numbers::pi));
    from = k * std::numbers::pi / w;
    to = (k + 1.0) * std::numbers::pi / w;
    if (std::fmod(k, 2.0) > 0.5) level = -settle_band;
  }
  const auto off = [&](double x) { return missing(x) - level; };
  std::uintmax_t most = 100;
  const auto bracket =
      boost::math::tools::toms748_solve(off, from, to, boost::math::tools::eps_tolerance<double>(40), most);
  return 0.5 * (bracket.first + bracket.second);
}

}  // namespace

Inertia line_inertia(const line::Line& line, const line::Topology& topology) {
  const std::size_t n = line.elements.size();
  const double rt = gas::R * line.site.temperature;
  const auto bore_of = [&](std::size_t i) { return std::get_if<line::Bore>(&line.elements[i].restriction); };
  std::vector<double> beyond(n, 0.0);  // volume on the tip's side of each element, half its own included
  for (std::size_t i = 0; i < n; ++i) {
    const double own = bore_of(i) ? line::bore_volume(line.elements[i]) : 0.0;
    beyond[i] += 0.5 * own + line.elements[i].volume.value;
    for (std::size_t k = topology.before[i]; k != none; k = topology.before[k])
      beyond[k] += own + line.elements[i].volume.value;
  }
  Inertia inertia;
  double theta_squared = 0.0;
  for (std::size_t tip : line::all_of(line, line::Kind::nozzle)) {
    double length = 0.0, sum = 0.0;
    for (std::size_t i = tip; i != none; i = topology.before[i])
      if (const line::Bore* bore = bore_of(i)) {
        const double d = bore->bore.value;
        length += bore->length.value;
        sum += bore->length.value / (0.25 * std::numbers::pi * d * d) * beyond[i] / rt;
      }
    inertia.travel = std::max(inertia.travel, length / gas::sound_speed(line.site.temperature));
    theta_squared = std::max(theta_squared, sum);
  }
  inertia.swing = std::sqrt(theta_squared);
  inertia.damping = std::numeric_limits<double>::infinity();
  return inertia;
}

Inertia inertia_effect(Inertia line, double settle) {
  const double tau = settle / -std::log(settle_band);
  if (line.swing <= 0.0 || tau <= 0.0) return line;
  line.damping = 0.5 * tau / line.swing;
  const double zeta = line.damping;
  // Beyond 1e3 the closed form's digits go; the series -1/(6 zeta^2) says as much.
  line.settle_change = zeta > 1e3 ? -1.0 / (6.0 * zeta * zeta) : settle_over_theta(zeta) * line.swing / settle - 1.0;
  line.overshoot = zeta < 1.0 ? std::exp(-std::numbers::pi * zeta / std::sqrt((1.0 - zeta) * (1.0 + zeta))) : 0.0;
  return line;
}

std::optional<std::string> inertia_warning(const Inertia& inertia, double settle) {
  const bool late = inertia.travel > 0.1 * settle;
  if (settle <= 0.0 || (!late && std::fabs(inertia.settle_change) <= worth_saying)) return {};
  std::string text = fmt::format(
      "the air's inertia, which the model leaves out, counts here. Sound needs {:.1f} ms from pump to tip and the "
      "true curve starts that much later",
      1e3 * inertia.travel);
  if (inertia.overshoot > settle_band)
    text += fmt::format(
        "; then it swings, beyond the final vacuum by about {:.0f} %, and settles in {:.1f} times the settle time "
        "given "
        "here or later (damping ratio {:.2f}).",
        100 * inertia.overshoot, 1.0 + inertia.settle_change, inertia.damping);
  else
    text += fmt::format(" but is steeper; it settles about {:.0f} % sooner (damping ratio {:.1f}).",
                        -100 * inertia.settle_change, inertia.damping);
  return text;
}

}  // namespace airtally::study
