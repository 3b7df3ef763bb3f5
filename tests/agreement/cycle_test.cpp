// A pick with two sudden changes against SUNDIALS' CVODE (6.4): BDF, dense, with its own difference-quotient Jacobian
// and a right-hand side put together from the law functions, started anew at every event.
#include "study/cycle.hpp"

#include <cvode/cvode.h>

#include <cmath>

#include "agreement/sundials.hpp"
#include "line/topology.hpp"
#include "solve/answer.hpp"
#include "solve/steady.hpp"
#include "study/segments.hpp"
#include "support/lines.hpp"
#include "support/residual.hpp"

using namespace airtally;
using namespace airtally::agreement;
using solve::Mode;
using solve::Network;
using solve::TipState;

namespace {

constexpr double valve_opens = 30e-3, valve_closes = 250e-3, ramp = 6e-3;

/// A pick whose nozzle stands on the part from the start. Every place has some volume, as CVODE needs.
line::Line pick() {
  support::Builder b;
  b.pump("pump", {{0.0, 8.0}, {30e3, 4.6}, {60e3, 1.1}, {71e3, 0.0}}, 6e-6).tube("supply hose", 4e-3, 0.8);
  b.tee("gauge tee", 0.4e-6).gauge().valve("valve", 0.3).vent(0.25).volume(0.3e-6);
  b.filter("filter", 6.0, 2e3).volume(0.5e-6).tube("head hose", 2.5e-3, 0.5);
  b.leak(support::clearance(35e-6, 5e-3, 4e-3, 0.5)).nozzle("nozzle", 1e-3, 6e-3, 1.8e-3).part(12e-6, 4e-6);
  for (line::Element& e : b.line.elements)
    if (e.volume.value == 0.0) e.volume = 0.05e-6;
  for (line::Element& e : b.line.elements)
    if (e.valve) e.valve->ramp = ramp;
  b.line.cycle.emplace();
  line::Cycle& cycle = *b.line.cycle;
  cycle.touch = 0.0;
  cycle.valve_on = valve_opens;
  cycle.place = valve_closes;
  cycle.retract = 0.4;
  return b.line;
}

struct CycleMotion {
  Network network;
  int valve = -1, vent = -1;
  std::vector<double> net;

  void drive(double t) {
    const double opened = std::clamp((t - valve_opens) / ramp, 0.0, 1.0);
    const double closed = std::clamp((t - valve_closes) / ramp, 0.0, 1.0);
    network.paths[valve].scale = opened - closed;
    network.paths[vent].scale = closed;
  }

  static int rate(double t, N_Vector x, N_Vector f, void* data) {
    CycleMotion& m = *static_cast<CycleMotion*>(data);
    const auto p = span_of(x), r = span_of(f);
    for (const double value : p)
      if (!(value > 0.0)) return 1;
    m.drive(t);
    support::net_inflow(m.network, p, m.net);
    for (std::size_t i = 0; i < r.size(); ++i) r[i] = m.net[i] * m.network.air.rt / m.network.nodes[i].volume;
    return 0;
  }
};

}  // namespace

TEST_CASE("a pick as CVODE follows it, from event to event", "[study][cycle][agreement][slow]") {
  const line::Line line = pick();
  study::CycleOptions options;
  options.thermal = solve::Thermal::isothermal;
  options.limits = false;
  options.relative = 1e-9;
  options.absolute = 1e-4;
  options.samples = 201;
  const study::CycleAnswer ours = study::cycle(line, options);

  const line::Topology topology = line::topology(line);
  CycleMotion motion{
      Network(line, topology, solve::all_tips(line, TipState::part), study::cut(line, options.segments)), -1, -1, {}};
  Network& network = motion.network;
  motion.net.resize(network.nodes.size());
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const solve::Path& path = network.paths[k];
    if (line.elements[path.element].kind != line::Kind::valve) continue;
    (path.role == solve::Role::vent ? motion.vent : motion.valve) = static_cast<int>(k);
  }
  // The start: pumped down as far as the closed valve.
  network.paths[motion.valve].mode = network.paths[motion.vent].mode = Mode::closed;
  solve::Pressures rest(network.nodes.size(), network.ambient);
  solve::Steady steady(network);
  steady.solve(network, rest);
  network.paths[motion.valve].mode = network.paths[motion.vent].mode = Mode::active;

  Sundials sundials(network.nodes.size());
  N_Vector x = sundials.vector(rest.p);
  N_Vector between = sundials.vector(rest.p);
  const int mouth = network.node_of[network.nozzles[0]];
  const int tee = network.node_of[*line::find(line, "gauge tee")];
  double worst = 0.0, deepest = 0.0;
  std::size_t next = 1, compared = 0;
  double begin = 0.0;
  for (const double end : {valve_opens, valve_opens + ramp, valve_closes, valve_closes + ramp, 0.399}) {
    void* memory = CVodeCreate(CV_BDF, sundials.context);
    REQUIRE(CVodeInit(memory, CycleMotion::rate, begin, x) == 0);
    CVodeSStolerances(memory, 1e-10, 1e-5);
    CVodeSetUserData(memory, &motion);
    CVodeSetLinearSolver(memory, sundials.solver, sundials.matrix);
    CVodeSetMaxNumSteps(memory, 1000000);
    CVodeSetStopTime(memory, end);
    for (double t = begin; t < end;) {
      REQUIRE(CVode(memory, end, x, &t, CV_ONE_STEP) >= 0);
      for (; next < ours.samples.size() && ours.samples[next].time <= t; ++next) {
        const study::CycleSample& sample = ours.samples[next];
        REQUIRE(CVodeGetDky(memory, sample.time, 0, between) == 0);
        for (const auto& [place, node] : {std::pair{0, mouth}, std::pair{1, tee}}) {
          const double theirs = network.ambient - span_of(between)[node];
          worst = std::max(worst, std::fabs(theirs - sample.vacuum[place]));
          deepest = std::max(deepest, theirs);
          ++compared;
        }
      }
    }
    CVodeFree(&memory);
    begin = end;
  }
  CHECK(compared > 300);
  CHECK(deepest > 40e3);
  CHECK(worst <= 1e-5 * deepest);
  WARN("largest difference to CVODE over the pick: " << worst / deepest << " of the deepest vacuum");
}
