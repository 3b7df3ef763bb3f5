#include "study/rise.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "line/variant.hpp"
#include "solve/isothermal.hpp"
#include "solve/trajectory.hpp"

namespace airtally::study {
namespace {

using line::none;
using solve::Network;
using solve::TipState;

constexpr double band = 0.05;                ///< settled: within 5 % of the final vacuum
constexpr double near_rest = 0.002;          ///< at rest: every place within 0.2 % of its final vacuum
constexpr double segment_tolerance = 0.005;  ///< cutting tubes finer must change the settle time by less than this
constexpr int most_segments = 64;
constexpr double longest_wait = 1e6;  ///< [s]; no pull-down that anyone waits for takes longer

/// Tubes worth cutting: those long enough for the pressure to vary along them.
std::vector<int> cut(const line::Line& line, int segments) {
  std::vector<int> counts(line.elements.size(), 1);
  for (std::size_t i = 0; i < counts.size(); ++i) {
    const auto* bore = std::get_if<line::Bore>(&line.elements[i].restriction);
    if (bore && line.elements[i].kind != line::Kind::nozzle && bore->length.value > 20.0 * bore->bore.value)
      counts[i] = segments;
  }
  return counts;
}

/// The node whose vacuum is a tip's vacuum.
int tip_node(const Network& network, const line::Topology& topology, std::size_t k) {
  const std::size_t i = network.nozzles[k];
  return network.node_of[network.tips[k] == TipState::open ? topology.before[i] : i];
}

struct Run {
  solve::Trajectory trajectory;
  solve::IntegrationReport report;
  std::size_t evaluations = 0;
};

/// Integrates from ambient until `done` says that it is enough.
Run pull_down(const Network& network, std::vector<std::size_t> watched, const solve::Accuracy& accuracy,
              const std::function<bool(std::span<const double>)>& done) {
  solve::Isothermal system(network);
  std::vector<double> x(network.nodes.size(), network.ambient);
  system.settle_massless(x);
  Run run{solve::Trajectory(std::move(watched)), {}, 0};
  run.report = solve::integrate(system, x, 0.0, longest_wait, accuracy, [&](const solve::StepView& step) {
    run.trajectory.add(step);
    return !done(step.last);
  });
  run.evaluations = system.evaluations();
  return run;
}

/// Last entry of watched tip `w` into the band around its final vacuum [s]; 0 when there is nothing to wait for.
double settle_time(const solve::Trajectory& trajectory, std::size_t w, double ambient, double final_vacuum) {
  if (final_vacuum < 1.0) return 0.0;
  const double low = trajectory.last_crossing(w, ambient - (1.0 - band) * final_vacuum);
  const double high = trajectory.last_crossing(w, ambient - (1.0 + band) * final_vacuum);
  return std::max({low, high, 0.0});
}

/// Longest way for sound from a source to a tip [s].
double travel_time(const line::Line& line, const line::Topology& topology) {
  double longest = 0.0;
  for (std::size_t tip : line::all_of(line, line::Kind::nozzle)) {
    double length = 0.0;
    for (std::size_t i = tip; i != none; i = topology.before[i])
      if (const auto* bore = std::get_if<line::Bore>(&line.elements[i].restriction)) length += bore->length.value;
    longest = std::max(longest, length);
  }
  return longest / gas::sound_speed(line.site.temperature);
}

}  // namespace

Rise rise(const line::Line& line, std::span<const TipState> tips, const RiseOptions& options) {
  const line::Topology topology = line::topology(line);
  const Network whole(line, topology, tips);
  solve::Steady steady(whole);
  solve::Pressures rest;
  const solve::SteadyReport steady_report = steady.solve(whole, rest);
  const solve::SteadyAnswer final = solve::read_off(line, topology, whole, rest, steady.evaluation(), steady_report);

  const auto at_rest = [&](std::span<const double> x) {
    for (std::size_t i = 0; i < topology.places; ++i)
      if (std::fabs(x[i] - rest.p[i]) > near_rest * (whole.ambient - rest.p[i]) + 0.5) return false;
    return true;
  };
  const solve::Accuracy accuracy{options.absolute, options.relative};

  Rise result;
  // A tip's own place first, one per nozzle; then the places asked for.
  std::vector<std::size_t> watched;
  for (std::size_t k = 0; k < whole.nozzles.size(); ++k)
    watched.push_back(static_cast<std::size_t>(tip_node(whole, topology, k)));
  result.places = options.at.empty() ? whole.nozzles : options.at;
  for (std::size_t i : options.at) watched.push_back(static_cast<std::size_t>(whole.node_of[i]));

  double before = -1.0;
  for (int segments = 1; segments <= most_segments; segments *= 2) {
    const Network network(line, topology, tips, cut(line, segments));
    Run run = pull_down(network, watched, accuracy, at_rest);
    result.evaluations += run.evaluations;
    result.steps = run.report.steps;
    result.segments = segments;
    result.tips.clear();
    result.settle = -1.0;
    for (std::size_t k = 0; k < whole.nozzles.size(); ++k) {
      result.tips.push_back({whole.nozzles[k],
                             settle_time(run.trajectory, k, whole.ambient, final.tips[k].tip_vacuum()),
                             final.tips[k].tip_vacuum()});
      if (result.tips.back().settle > result.settle) {
        result.settle = result.tips.back().settle;
        result.final_vacuum = result.tips.back().final_vacuum;
      }
    }
    const bool enough = before >= 0.0 && std::fabs(result.settle - before) <= segment_tolerance * result.settle;
    before = result.settle;
    if (!enough && segments < most_segments) continue;

    const double span =
        result.settle > 0.0 ? std::min(2.0 * result.settle, run.trajectory.end()) : run.trajectory.end();
    const std::size_t offset = options.at.empty() ? 0 : whole.nozzles.size();
    for (std::size_t s = 0; s < options.samples; ++s) {
      RiseSample sample;
      sample.time = span * static_cast<double>(s) / static_cast<double>(std::max<std::size_t>(options.samples - 1, 1));
      for (std::size_t w = 0; w < result.places.size(); ++w)
        sample.vacuum.push_back(whole.ambient - run.trajectory.at(offset + w, sample.time));
      result.samples.push_back(std::move(sample));
    }
    break;
  }

  result.travel_time = travel_time(line, topology);
  if (result.settle > 0.0 && result.travel_time > 0.1 * result.settle)
    result.warnings.push_back(
        fmt::format("sound needs {:.1f} ms from the pump to the tip, more than a tenth of the settle time of {:.1f} "
                    "ms; the model leaves out "
                    "inertia and sound travel, so the true curve starts later and may swing.",
                    1e3 * result.travel_time, 1e3 * result.settle));
  return result;
}

Timing timing(const line::Line& line, std::span<const TipState> tips, std::size_t nozzle, double vacuum, int segments) {
  const line::Topology topology = line::topology(line, false);
  const Network network(line, topology, tips, cut(line, segments));
  solve::Steady steady(network);
  solve::Pressures rest;
  steady.solve(network, rest);
  const auto node = static_cast<std::size_t>(tip_node(network, topology, nozzle));
  const double final_vacuum = (network.ambient - rest.p[node]) - rest.low[node];
  const double level = network.ambient - vacuum;
  const bool reaches = rest.p[node] < level;
  const Run run = pull_down(network, {node}, {}, [&](std::span<const double> x) {
    return std::fabs(x[node] - rest.p[node]) <= near_rest * final_vacuum + 0.5 && (!reaches || x[node] <= level);
  });
  Timing timing;
  timing.settle = settle_time(run.trajectory, 0, network.ambient, final_vacuum);
  if (reaches) timing.reach = std::max(0.0, run.trajectory.first_crossing(0, level));
  return timing;
}

}  // namespace airtally::study
