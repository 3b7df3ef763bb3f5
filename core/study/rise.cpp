#include "study/rise.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "line/variant.hpp"
#include "solve/line_system.hpp"
#include "solve/tally.hpp"
#include "solve/trajectory.hpp"
#include "study/segments.hpp"

namespace airtally::study {
namespace {

using line::none;
using solve::Network;
using solve::TipState;

constexpr double near_rest = 0.002;          ///< at rest: every place within 0.2 % of its final vacuum
constexpr double segment_tolerance = 0.005;  ///< cutting tubes finer must change the settle time by less than this
constexpr int most_segments = 64;
/// What a step of timing() may be off by: times to 2e-4, of which a ranking needs twenty.
constexpr solve::Accuracy for_times{0.2, 4e-6};
constexpr double longest_wait = 1e6;  ///< [s]; no pull-down that anyone waits for takes longer

/// The vacuum of a place at pressure `p`. At the start that is the ambient pressure but for the last digits that the
/// solver's energies and masses leave of it: they are no vacuum, and no pressure above the room's either.
double below(double ambient, double p) {
  constexpr double rounding = 16.0 * std::numeric_limits<double>::epsilon();
  const double vacuum = ambient - p;
  return std::fabs(vacuum) <= rounding * ambient ? 0.0 : vacuum;
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
  double imbalance = 0.0;
};

/// Integrates from ambient until `done` says that it is enough; it sees the node pressures and the time.
Run pull_down(const Network& network, solve::Thermal thermal, const std::vector<int>& watched,
              const solve::Accuracy& accuracy, const std::function<bool(std::span<const double>, double)>& done) {
  const std::unique_ptr<solve::LineSystem> system = solve::line_system(network, thermal);
  std::vector<double> x = system->state(solve::Pressures(network.nodes.size(), network.ambient));
  system->settle_massless(0.0, x);
  std::vector<std::size_t> indices;
  for (int node : watched) indices.push_back(system->pressure_index(node));
  Run run{solve::Trajectory(std::move(indices)), {}, 0, 0.0};
  const solve::LineSystem::Account before = system->content(x);
  std::vector<double> p(network.nodes.size());
  run.report = solve::integrate(*system, x, 0.0, longest_wait, accuracy, [&](const solve::StepView& step) {
    run.trajectory.add(step);
    for (std::size_t i = 0; i < p.size(); ++i) p[i] = step.last[system->pressure_index(static_cast<int>(i))];
    return !done(p, step.end);
  });
  run.evaluations = system->evaluations();
  const solve::LineSystem::Account after = system->content(x), in = system->brought_in(x);
  const auto gap = [](double change, double brought, double held) { return std::fabs(change - brought) / held; };
  run.imbalance = gap(after.mass - before.mass, in.mass, before.mass);
  if (before.energy > 0.0)
    run.imbalance = std::max(run.imbalance, gap(after.energy - before.energy, in.energy, before.energy));
  if (solve::Work* work = solve::Work::current()) work->balanced(run.imbalance);
  return run;
}

/// How near to its final vacuum [Pa] a place must come to be at rest. A tip, whose settle time counts, must be well
/// inside its settle_band however small its vacuum is.
double rest_tolerance(double final_vacuum, bool tip) {
  const double usual = near_rest * std::fabs(final_vacuum) + 0.5;
  return tip && final_vacuum >= least_vacuum ? std::min(usual, 0.5 * settle_band * final_vacuum) : usual;
}

/// Says when a run has come to rest: every place within its tolerance of its final pressure, and, where air changes its
/// temperature, still so after a quarter more of the time that it took to get there.
class Resting {
 public:
  Resting(std::vector<double> final, std::vector<double> tolerance, bool thermal)
      : final_(std::move(final)), tolerance_(std::move(tolerance)), thermal_(thermal) {}

  bool operator()(std::span<const double> p, double time) {
    for (std::size_t i = 0; i < final_.size(); ++i)
      if (std::fabs(p[i] - final_[i]) > tolerance_[i]) {
        since_ = -1.0;
        return false;
      }
    if (since_ < 0.0) since_ = time;
    return !thermal_ || time >= 1.25 * since_;
  }

 private:
  std::vector<double> final_, tolerance_;
  bool thermal_;
  double since_ = -1.0;
};

/// Last entry of watched tip `w` into the settle_band around its final vacuum [s]; 0 when there is nothing to wait for.
double settle_time(const solve::Trajectory& trajectory, std::size_t w, double ambient, double final_vacuum) {
  if (final_vacuum < least_vacuum) return 0.0;
  const double low = trajectory.last_crossing(w, ambient - (1.0 - settle_band) * final_vacuum);
  const double high = trajectory.last_crossing(w, ambient - (1.0 + settle_band) * final_vacuum);
  return std::max({low, high, 0.0});
}

}  // namespace

Rise rise(const line::Line& line, std::span<const TipState> tips, const RiseOptions& options) {
  const line::Topology topology = line::topology(line);
  const Network whole(line, topology, tips);
  solve::Steady steady(whole);
  solve::Pressures rest;
  const solve::SteadyReport steady_report = steady.solve(whole, rest);
  const solve::SteadyAnswer final = solve::read_off(line, topology, whole, rest, steady.evaluation(), steady_report);

  const std::vector<double> places(rest.p.begin(), rest.p.begin() + static_cast<std::ptrdiff_t>(topology.places));
  std::vector<double> tolerance;
  for (const double p : places) tolerance.push_back(rest_tolerance(whole.ambient - p, false));
  for (std::size_t k = 0; k < whole.nozzles.size(); ++k) {
    const auto node = static_cast<std::size_t>(tip_node(whole, topology, k));
    tolerance[node] = rest_tolerance(whole.ambient - places[node], true);
  }
  const solve::Accuracy accuracy{options.absolute, options.relative};

  Rise result;
  // A tip's own place first, one per nozzle; then the places asked for.
  std::vector<int> watched;
  for (std::size_t k = 0; k < whole.nozzles.size(); ++k) watched.push_back(tip_node(whole, topology, k));
  result.places = options.at.empty() ? whole.nozzles : options.at;
  for (std::size_t i : options.at) watched.push_back(whole.node_of[i]);

  double before = -1.0;
  const std::vector<int> in_two = cut(line, 2);
  const bool nothing_to_cut = std::all_of(in_two.begin(), in_two.end(), [](int pieces) { return pieces == 1; });
  const int fewest = options.segments > 0 ? options.segments : nothing_to_cut ? 1 : 2;
  for (int segments = fewest; segments <= most_segments; segments *= 2) {
    const Network network(line, topology, tips, cut(line, segments));
    Run run = pull_down(network, options.thermal, watched, accuracy,
                        Resting(places, tolerance, options.thermal != solve::Thermal::isothermal));
    result.evaluations += run.evaluations;
    result.steps = run.report.steps;
    result.worst_balance = run.imbalance;
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
    const bool enough =
        nothing_to_cut || (before >= 0.0 && std::fabs(result.settle - before) <= segment_tolerance * result.settle);
    before = result.settle;
    if (!enough && options.segments == 0 && segments < most_segments) continue;

    std::vector<double> times = options.times;
    if (times.empty()) {
      const double span =
          result.settle > 0.0 ? std::min(2.0 * result.settle, run.trajectory.end()) : run.trajectory.end();
      for (std::size_t k = 0; k < options.samples; ++k)
        times.push_back(span * static_cast<double>(k) /
                        static_cast<double>(std::max<std::size_t>(options.samples - 1, 1)));
    }
    const std::size_t offset = options.at.empty() ? 0 : whole.nozzles.size();
    for (const double time : times) {
      RiseSample sample;
      sample.time = time;
      for (std::size_t w = 0; w < result.places.size(); ++w)
        sample.vacuum.push_back(
            below(whole.ambient, run.trajectory.at(offset + w, std::min(time, run.trajectory.end()))));
      result.samples.push_back(std::move(sample));
    }
    break;
  }

  result.inertia = inertia_effect(line_inertia(line, topology), result.settle);
  if (const auto warning = inertia_warning(result.inertia, result.settle)) result.warnings.push_back(*warning);
  return result;
}

Timing timing(const line::Line& line, std::span<const TipState> tips, std::size_t nozzle, double vacuum, int segments,
              solve::Thermal thermal) {
  const line::Topology topology = line::topology(line, false);
  const Network network(line, topology, tips, cut(line, segments));
  solve::Steady steady(network);
  solve::Pressures rest;
  steady.solve(network, rest);
  const int node = tip_node(network, topology, nozzle);
  const double final_vacuum = (network.ambient - rest.p[node]) - rest.low[node];
  const double level = network.ambient - vacuum;
  const bool reaches = rest.p[node] < level;
  Resting at_rest({rest.p[node]}, {rest_tolerance(final_vacuum, true)}, thermal != solve::Thermal::isothermal);
  const Run run = pull_down(network, thermal, {node}, for_times, [&](std::span<const double> p, double time) {
    return at_rest(p.subspan(static_cast<std::size_t>(node), 1), time) && (!reaches || p[node] <= level);
  });
  Timing timing;
  timing.settle = settle_time(run.trajectory, 0, network.ambient, final_vacuum);
  if (reaches) timing.reach = std::max(0.0, run.trajectory.first_crossing(0, level));
  return timing;
}

}  // namespace airtally::study
