#include "study/pump_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "errors.hpp"
#include "gas/air.hpp"
#include "laws/conductance.hpp"
#include "laws/isotonic.hpp"
#include "laws/monotone_cubic.hpp"
#include "laws/pump_curve.hpp"
#include "line/uncertain.hpp"
#include "study/random.hpp"

namespace airtally::study {
namespace {

using units::Quantity;

constexpr double one_place = 20.0;   ///< [Pa]: readings that differ by less are of one point, as no gauge tells them
constexpr double last_step = 100.0;  ///< [Pa]: a curve's last step, to no flow, spans at least that
constexpr double rough = 0.01;       ///< of the largest flow: no reading is surer than that; common practice, no source

struct Point {
  double vacuum = 0.0;
  double flow = 0.0;
  double weight = 1.0;
};

/// Draws a quantity; the first draw is its middle value.
class Draw {
 public:
  Draw(std::uint64_t seed, std::size_t sample) : random_(seed * 7919 + sample), middle_(sample == 0) {}
  double of(const Quantity& quantity) {
    const double u = random_.uniform();
    return middle_ || quantity.is_exact() ? quantity.value : line::drawn(quantity, std::clamp(u, 1e-9, 1.0 - 1e-9));
  }
  /// An error whose two standard deviations are `two_sigma`.
  double error(double two_sigma) { return two_sigma > 0.0 ? of(Quantity::normal(0.0, two_sigma)) : 0.0; }

 private:
  Random random_;
  bool middle_;
};

double two_sigma_share(const Quantity& quantity) {
  return quantity.value > 0.0 ? 0.5 * (quantity.high - quantity.low) / quantity.value : 0.0;
}

class Fitter {
 public:
  explicit Fitter(const line::PumpReadings& readings)
      : readings_(readings),
        air_(gas::air_at(readings.site.temperature)),
        vacuum_scale_(gas::standard_pressure / readings.site.pressure),
        flow_scale_(vacuum_scale_ * readings.site.temperature / laws::reading_temperature) {}

  /// What a reading stands for, at the reference.
  Point point_of(const line::PumpReading& reading, double gauge, Draw& draw) const {
    const double ambient = readings_.site.pressure;
    const double vacuum = std::clamp(draw.of(reading.vacuum) + gauge, 0.0, line::deepest_read * ambient);
    Point point;
    double sure = 0.0;        // two standard deviations, relative
    double gauge_part = 0.0;  // what the gauge leaves unsure of the flow, one deviation
    if (reading.hole) {
      const laws::Conductance path = laws::hole(draw.of(*reading.hole), draw.of(reading.discharge));
      const laws::Flow through = laws::conductance(path, laws::Ends(ambient, ambient - vacuum), air_);
      point.flow = through.m;
      gauge_part = std::abs(through.dm_dp2) * std::hypot(0.5 * readings_.accuracy, reading.vacuum.standard_deviation());
      sure = std::hypot(2.0 * two_sigma_share(*reading.hole), two_sigma_share(reading.discharge));
    } else {
      point.flow = draw.of(*reading.flow);
      sure = two_sigma_share(*reading.flow);
    }
    point.vacuum = vacuum * vacuum_scale_;
    point.flow *= flow_scale_;
    point.weight = std::hypot(0.5 * sure * point.flow, flow_scale_ * gauge_part);  // a deviation until pool()
    return point;
  }

  /// The curve's points for one draw; empty when fewer than two that were read are left. One alone gives no slope: what
  /// is drawn out from it would be made up altogether, and at will.
  std::vector<Point> curve(Draw& draw, std::vector<std::string>* notes) const {
    const double gauge = draw.error(readings_.accuracy);
    std::vector<Point> points;
    points.reserve(readings_.list.size() + 2);
    for (const line::PumpReading& reading : readings_.list) points.push_back(point_of(reading, gauge, draw));
    std::sort(points.begin(), points.end(), [](const Point& a, const Point& b) { return a.vacuum < b.vacuum; });
    if (readings_.free_flow)
      points.insert(points.begin(), {0.0, draw.of(*readings_.free_flow) * flow_scale_,
                                     readings_.free_flow->standard_deviation() * flow_scale_});
    pool(points);
    if (readings_.free_flow) points.front().vacuum = 0.0;  // also where readings were pooled with it
    const double blocked = readings_.blocked ? (draw.of(*readings_.blocked) + gauge) * vacuum_scale_ : 0.0;
    if (points.empty()) return {};
    if (points.size() < 2 && blocked < points.back().vacuum + last_step) return {};
    add_free_flow(points, blocked, notes);
    add_blocked(points, blocked, notes);
    return points;
  }

 private:
  /// Flows that never rise, and one point for those that were made alike or read at one vacuum.
  static void pool(std::vector<Point>& points) {
    if (points.empty()) return;
    double most = 0.0;
    for (const Point& point : points) most = std::max(most, point.flow);
    if (!(most > 0.0)) return points.clear();  // no reading had any flow
    std::vector<double> flows, weights;
    for (Point& point : points) {
      const double deviation = std::hypot(point.weight, rough * most);
      point.weight = 1.0 / (deviation * deviation);
      flows.push_back(point.flow);
      weights.push_back(point.weight);
    }
    const std::vector<double> pooled = laws::never_rising(flows, weights);
    std::vector<Point> kept;
    for (std::size_t i = 0; i < points.size(); ++i) {
      points[i].flow = pooled[i];
      const bool falls = kept.empty() || points[i].flow < kept.back().flow * (1.0 - 1e-9);
      const bool apart = kept.empty() || points[i].vacuum >= kept.back().vacuum + one_place;
      if (falls && apart) {
        kept.push_back(points[i]);
        continue;
      }
      Point& with = kept.back();
      const double sum = with.weight + points[i].weight;
      with.vacuum = (with.vacuum * with.weight + points[i].vacuum * points[i].weight) / sum;
      with.flow = (with.flow * with.weight + points[i].flow * points[i].weight) / sum;
      with.weight = sum;
    }
    points = std::move(kept);
  }

  void add_free_flow(std::vector<Point>& points, double blocked, std::vector<std::string>* notes) const {
    if (points.front().vacuum < one_place) {
      points.front().vacuum = 0.0;
      return;
    }
    const Point first = points.front();
    const Point next = points.size() > 1 ? points[1] : Point{blocked, 0.0, 1.0};
    const double slope = (first.flow - next.flow) / (next.vacuum - first.vacuum);
    points.insert(points.begin(), {0.0, first.flow + slope * first.vacuum, 1.0});
    if (notes != nullptr)
      notes->emplace_back("free-flow is not given: the curve is drawn out straight to no vacuum from its first points");
  }

  void add_blocked(std::vector<Point>& points, double blocked, std::vector<std::string>* notes) const {
    const Point last = points.back();
    if (!readings_.blocked) {
      const Point before = points[points.size() - 2];
      const double slope = (before.flow - last.flow) / std::max(last.vacuum - before.vacuum, 1.0);
      blocked = slope > 0.0 ? last.vacuum + last.flow / slope : 0.0;
      if (notes != nullptr)
        notes->emplace_back("blocked is not given: the curve is drawn out straight to no flow from its last points");
    }
    if (blocked < last.vacuum + last_step) {
      blocked = last.vacuum + last_step;
      if (notes != nullptr && readings_.blocked)
        notes->emplace_back("a reading has as much vacuum as the blocked pump: read both again, with one gauge");
    }
    points.push_back({std::min(blocked, 0.999 * gas::standard_pressure), 0.0, 1.0});
  }

  const line::PumpReadings& readings_;
  gas::Air air_;
  double vacuum_scale_, flow_scale_;
};

/// One pair for those at one place, at their means; in rising order.
std::vector<std::pair<double, double>> merged(std::vector<std::pair<double, double>> pairs) {
  std::sort(pairs.begin(), pairs.end());
  std::vector<std::pair<double, double>> kept;
  for (std::size_t i = 0; i < pairs.size();) {
    double at = 0.0, value = 0.0, count = 0.0;
    for (const double from = pairs[i].first; i < pairs.size() && pairs[i].first < from + one_place; ++i, ++count) {
      at += pairs[i].first;
      value += pairs[i].second;
    }
    at /= count;
    value /= count;
    if (kept.empty() || at >= kept.back().first + one_place) kept.emplace_back(at, value);
  }
  return kept;
}

double value_at(const std::vector<Point>& points, double vacuum) {
  if (vacuum >= points.back().vacuum) return 0.0;
  std::vector<double> x, y;
  for (const Point& point : points) x.push_back(point.vacuum), y.push_back(point.flow);
  return laws::MonotoneCubic(x, y, laws::MonotoneCubic::LastSlope::never_flat).value(vacuum);
}

}  // namespace

PumpFit pump_fit(const line::PumpReadings& readings, std::size_t samples, std::uint64_t seed) {
  const Fitter fitter(readings);
  PumpFit fit;
  fit.samples = samples;
  fit.notes = readings.assumed;
  Draw middle(seed, 0);
  const std::vector<Point> nominal = fitter.curve(middle, &fit.notes);
  if (nominal.empty())
    throw BadInput({readings.file, 0, 0},
                   "these readings make no curve: two points of different vacuum are needed, one of them with flow.");

  std::vector<std::vector<double>> flows(nominal.size());
  std::vector<double> ends;
  for (std::size_t s = 1; s <= samples; ++s) {
    Draw draw(seed, s);
    const std::vector<Point> drawn = fitter.curve(draw, nullptr);
    if (drawn.empty()) {
      ++fit.failed;
      continue;
    }
    ends.push_back(drawn.back().vacuum);
    for (std::size_t i = 0; i < nominal.size(); ++i) flows[i].push_back(value_at(drawn, nominal[i].vacuum));
  }
  if (fit.failed > 0 && ends.empty())
    throw BadInput({readings.file, 0, 0}, "not one draw of what the readings leave unsure makes a curve; read again.");
  for (std::size_t i = 0; i < nominal.size(); ++i) {
    Band band = band_of(flows[i]);
    band.median = nominal[i].flow;
    fit.curve.push_back({nominal[i].vacuum, band});
  }
  fit.curve.back().flow = {0.0, 0.0, 0.0};
  fit.deepest = band_of(ends);
  fit.deepest.median = nominal.back().vacuum;
  const double scale = gas::standard_pressure / readings.site.pressure;
  for (std::size_t r = 0; r < readings.list.size(); ++r) {
    Draw draw(seed, 0);
    const Point point = fitter.point_of(readings.list[r], 0.0, draw);
    fit.readings.push_back({r, point.vacuum, point.flow, point.flow - value_at(nominal, point.vacuum)});
    if (readings.list[r].current)
      fit.current.emplace_back(readings.list[r].vacuum.value * scale, readings.list[r].current->value);
  }
  fit.current = merged(std::move(fit.current));
  return fit;
}

}  // namespace airtally::study
