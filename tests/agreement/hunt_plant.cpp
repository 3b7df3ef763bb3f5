#include "agreement/hunt_plant.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "agreement/kinsol_bench.hpp"
#include "hunt/next/next_test.hpp"
#include "read/line_file.hpp"
#include "solve/answer.hpp"

namespace airtally::agreement {
namespace {

using hunt::Setting;
using hunt::What;

constexpr const char* names[] = {"jewel-setter", "jewel-setter-twist", "ejector-head", "two-spindle-sorter",
                                 "seed-tray"};

/// What mending each element would gain the tip that gains most, from KINSOL alone.
std::vector<double> gains(const Plant& plant, const hunt::Bench& bench) {
  const Setting whole{{}, 0.0, plant.tips};
  const std::vector<double> now = KinsolBench(plant.suspects, bench, plant.values).tips(whole);
  std::vector<double> gain(plant.line.elements.size(), 0.0);
  for (std::size_t i = 0; i < gain.size(); ++i) {
    std::vector<double> mended = plant.values;
    bool any = false;
    for (std::size_t k = 0; k < mended.size(); ++k) {
      const hunt::Unknown& u = plant.suspects.unknowns[k];
      if (u.element != i || u.what == What::offset || u.what == What::hole_share || u.what == What::plate) continue;
      mended[k] = u.what == What::leak   ? 0.0
                  : u.what == What::seal ? std::min(mended[k], u.filed())
                                         : std::max(mended[k], 1.0);
      any = true;
    }
    if (!any) continue;
    const std::vector<double> then = KinsolBench(plant.suspects, bench, mended).tips(whole);
    for (std::size_t t = 0; t < now.size(); ++t) gain[i] = std::max(gain[i], then[t] - now[t]);
  }
  return gain;
}

/// Sets unknown k so that the tip that loses most loses `share` of what it had with it healthy; false when it can't
/// cost as much.
bool plant_one(Plant& plant, const hunt::Bench& bench, std::size_t k, double share) {
  const Setting whole{{}, 0.0, plant.tips};
  const hunt::Unknown& unknown = plant.suspects.unknowns[k];
  const bool leak = unknown.what == What::leak, seal = unknown.what == What::seal;
  const double healthy = plant.values[k];
  const std::vector<double> had = KinsolBench(plant.suspects, bench, plant.values).tips(whole);
  const auto lost = [&](double log_size) {
    plant.values[k] = leak   ? std::exp(log_size) / plant.suspects.leak_at_one[unknown.element]
                      : seal ? std::exp(log_size)
                             : std::exp(-log_size);
    const std::vector<double> has = KinsolBench(plant.suspects, bench, plant.values).tips(whole);
    double most = 0.0;
    for (std::size_t t = 0; t < had.size(); ++t) most = std::max(most, 1.0 - has[t] / had[t]);
    return most;
  };
  // To a sixtieth of the flow either way: a bore to a sixth of its width. A seal to a gap fifty times as wide.
  const double least = unknown.what == What::bore ? 6.0 : seal ? 1e5 : 60.0;
  double low = leak ? std::log(1e-9) : 0.0, high = leak ? std::log(1e-3) : std::log(least);
  if (lost(high) < share) {
    plant.values[k] = healthy;
    return false;
  }
  for (int step = 0; step < 18; ++step) {
    const double middle = 0.5 * (low + high);
    (lost(middle) < share ? low : high) = middle;
  }
  lost(high);
  return true;
}

/// Gives the source a gauge like the line's own, where that one goes off the line with some cap and nothing else is
/// left to read.
void put_gauge_at_source(line::Line& line) {
  std::optional<line::Gauge> gauge;
  for (const line::Element& e : line.elements)
    if (e.gauge && !gauge) gauge = e.gauge;
  bool blind = false;
  for (const Setting& setting : all_settings(line, plate)) blind = blind || instruments(line, setting).empty();
  for (line::Element& e : line.elements)
    if (blind && gauge && line::is_source(e.kind) && !e.gauge) e.gauge = gauge;
}

/// The readings of every setting at every instrument, without scatter.
std::vector<double> all_readings(const Plant& plant, const hunt::Bench& bench, const std::vector<double>& values) {
  KinsolBench kinsol(plant.suspects, bench, values);
  std::vector<double> all;
  for (const Setting& setting : all_settings(plant.line, plate))
    for (const auto& [instrument, at] : instruments(plant.line, setting))
      all.push_back(kinsol.exact(setting, instrument, at) / hunt::meter_at(plant.line, bench, instrument, at).noise());
  return all;
}

/// The twins of a single culprit.
std::vector<std::size_t> twins_of(const Plant& plant, const hunt::Bench& bench, const std::vector<double>& healthy,
                                  double share) {
  constexpr double two_deviations = 4.0;  // squared: then even the true sizes would be told apart but once in twenty
  const std::vector<double> truth = all_readings(plant, bench, plant.values);
  std::vector<std::size_t> twins;
  for (std::size_t k = 0; k < healthy.size(); ++k) {
    const hunt::Unknown& u = plant.suspects.unknowns[k];
    if ((!u.lets_in() && u.what != What::blockage && u.what != What::bore) || u.element == plant.culprits.front())
      continue;
    Plant other = plant;
    other.values = healthy;
    if (!plant_one(other, bench, k, share)) continue;
    const std::vector<double> shown = all_readings(other, bench, other.values);
    double distance = 0.0;
    for (std::size_t r = 0; r < shown.size(); ++r) distance += (shown[r] - truth[r]) * (shown[r] - truth[r]);
    if (distance < two_deviations && std::find(twins.begin(), twins.end(), u.element) == twins.end())
      twins.push_back(u.element);
  }
  return twins;
}

}  // namespace

std::string line_of(int c) { return names[c % 5]; }

std::optional<Plant> make_plant(int c, std::uint64_t seed, const hunt::Bench& bench, bool gauge_at_source) {
  study::Random random(seed * 7919ULL + static_cast<std::uint64_t>(c));
  const std::string name = line_of(c);
  Plant plant;
  plant.line = read::read_line(std::string(AIRTALLY_LINES) + "/" + name + ".toml");
  if (gauge_at_source) put_gauge_at_source(plant.line);
  plant.suspects = hunt::suspects(plant.line, bench, hunt::drills);
  const bool blockage = (c / 5) % 4 == 3, two = (c / 5) % 8 == 5;
  plant.tips = blockage ? solve::all_tips(plant.line, solve::TipState::open) : solve::usual_tips(plant.line);
  std::vector<double> z(plant.suspects.unknowns.size(), 0.0);
  std::vector<std::size_t> candidates;
  for (std::size_t k = 0; k < z.size(); ++k) {
    const What what = plant.suspects.unknowns[k].what;
    if (blockage ? what == What::blockage || what == What::bore : plant.suspects.unknowns[k].lets_in())
      candidates.push_back(k);
    // The rest is as common: not all alike, and instruments and plates as far off as they may be.
    const bool of_tools = what == What::offset || what == What::plate;
    z[k] = normal(random) * (of_tools || what == What::seal || what == What::hole_share ? 1.0 : 0.5);
  }
  plant.values = plant.suspects.values(z);
  plant.unknown = candidates[static_cast<std::size_t>(c / 5) % candidates.size()];
  const std::vector<double> healthy = plant.values;
  for (int attempt = 0; attempt < 6; ++attempt) {
    plant.values = healthy;
    plant.culprits = {plant.suspects.unknowns[plant.unknown].element};
    const double share = 0.05 * std::pow(12.0, random.uniform());
    if (!plant_one(plant, bench, plant.unknown, share)) continue;
    if (two) {
      const std::size_t other = candidates[random.below(candidates.size())];
      if (other == plant.unknown || !plant_one(plant, bench, other, 0.05 * std::pow(12.0, random.uniform()))) continue;
      plant.culprits.push_back(plant.suspects.unknowns[other].element);
    }
    const std::vector<double> gain = gains(plant, bench);
    const auto worst = static_cast<std::size_t>(std::max_element(gain.begin(), gain.end()) - gain.begin());
    if (std::find(plant.culprits.begin(), plant.culprits.end(), worst) == plant.culprits.end()) continue;
    if (!two) plant.twins = twins_of(plant, bench, healthy, share);
    plant.name = fmt::format("{}: {} {}{} costing {:.0f} %", name,
                             plant.suspects.unknowns[plant.unknown].what == What::seal   ? "no seal at"
                             : !blockage                                                 ? "leak at"
                             : plant.suspects.unknowns[plant.unknown].what == What::bore ? "narrow"
                                                                                         : "blocked",
                             plant.line.elements[plant.culprits[0]].name,
                             two ? " and " + plant.line.elements[plant.culprits[1]].name : "", 100.0 * share);
    return plant;
  }
  return std::nullopt;
}

}  // namespace airtally::agreement
