// A fitted pump as a catalogue takes it. What is written must read back, so it is the printed numbers that have to rise
// and fall and keep to the limits of read/limits_private.hpp, not those that they were rounded from.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "gas/air.hpp"
#include "report/pump_fit_text.hpp"
#include "report/width.hpp"

namespace airtally::report {
namespace {

using study::FittedPoint;
using study::PumpFit;

constexpr double most_flow = 1e4;       ///< of an entry [L/min]
constexpr double most_vacuum = 101.32;  ///< [kPa], a step below a whole atmosphere

/// Decimals that leave four digits of a number.
int decimals_for(double number, int least) {
  if (!(number > 0.0)) return least;
  return std::clamp(3 - static_cast<int>(std::floor(std::log10(number))), least, 15);
}

/// Numbers of one unit, written with the same decimals.
struct Written {
  std::string_view unit;
  double per_si = 1.0;  ///< of the unit in one of SI
  int decimals = 2;
  double rounded(double si) const { return std::round(si * per_si * step()) / step(); }
  double step() const { return std::pow(10.0, decimals); }
  std::string text(double si) const { return fmt::format("\"{:.{}f} {}\"", rounded(si), decimals, unit); }

  /// With a tolerance [SI]; one that reaches below nothing or beyond `most` (in the unit) becomes a range as wide as
  /// can be about the same middle.
  std::string text(double si, double tolerance, double most) const {
    const double middle = rounded(si), wide = rounded(tolerance), room = std::min(middle, most - middle);
    if (wide <= 0.0 || room <= 0.0) return text(si);
    if (wide < room) return fmt::format("\"{:.{}f} +- {:.{}f} {}\"", middle, decimals, wide, decimals, unit);
    return fmt::format("\"{:.{}f}..{:.{}f} {}\"", middle - room, decimals, middle + room, decimals, unit);
  }
};

/// Two standard deviations, of which the central 90 % spans 1.645 either way.
double tolerance(const study::Band& band) { return 0.5 * (band.high - band.low) * 2.0 / 1.645; }

/// The points whose printed numbers rise and fall as a curve's must: the first, the last and those that print apart.
std::vector<FittedPoint> told_apart(const std::vector<FittedPoint>& curve, const Written& kpa, const Written& flow) {
  std::vector<FittedPoint> kept{curve.front()};
  const double ultimate = kpa.rounded(curve.back().vacuum);
  for (std::size_t i = 1; i + 1 < curve.size(); ++i) {
    const double vacuum = kpa.rounded(curve[i].vacuum), passed = flow.rounded(curve[i].flow.median);
    if (vacuum > kpa.rounded(kept.back().vacuum) && vacuum < ultimate && passed > 0.0 &&
        passed < flow.rounded(kept.back().flow.median))
      kept.push_back(curve[i]);
  }
  kept.push_back(curve.back());
  return kept;
}

}  // namespace

std::string pump_entry(const line::PumpReadings& readings, const PumpFit& fit) {
  const double free_flow = fit.curve.front().flow.median * 60e3 / gas::free_air_density;  // L/min
  if (free_flow > most_flow)
    return fmt::format("# no entry: a catalogue takes no pump of more than {:g} L/min\n", most_flow);
  const bool small = free_flow < 0.1;
  const double in_unit = small ? 1e3 * free_flow : free_flow;
  const Written kpa{"kPa", 1e-3, decimals_for(1e-3 * fit.deepest.median, 2)};
  const Written flow{small ? "mL/min" : "L/min", (small ? 60e6 : 60e3) / gas::free_air_density,
                     decimals_for(in_unit, 3)};
  std::string name;
  for (const char c : readings.name) name += c == '"' || c == '\\' ? std::string{'\\', c} : std::string(1, c);
  std::string out = "[[entry]]\nname = \"" + clean(name) + "\"\nkind = \"pump\"\ncurve = [\n";
  const std::vector<FittedPoint> points = told_apart(fit.curve, kpa, flow);
  for (const FittedPoint& point : points) {
    const bool last = &point == &points.back();
    out += fmt::format("  [{}, {}],\n",
                       last ? kpa.text(point.vacuum, tolerance(fit.deepest), most_vacuum) : kpa.text(point.vacuum),
                       last ? flow.text(0.0)
                            : flow.text(point.flow.median, tolerance(point.flow), small ? 1e3 * most_flow : most_flow));
  }
  out += "]\n";
  double most = 0.0;
  for (const auto& [at, amperes] : fit.current) most = std::max(most, 1e3 * amperes);
  const Written current{"mA", 1e3, decimals_for(most, 1)};
  std::string rows;
  std::size_t drawn = 0;
  for (const auto& [at, amperes] : fit.current) {
    if (!(current.rounded(amperes) > 0.0)) continue;  // no motor draws nothing: the ammeter reads no finer
    rows += fmt::format("  [{}, {}],\n", kpa.text(at), current.text(amperes));
    ++drawn;
  }
  return drawn < 2 ? out : out + "current = [\n" + rows + "]\n";
}

}  // namespace airtally::report
