// Pull-downs against SUNDIALS' CVODE (6.4): BDF, dense, with its own difference-quotient Jacobian and a right-hand
// side put together from the law functions.
#include <cvode/cvode.h>

#include <cmath>

#include "agreement/pull_down.hpp"
#include "agreement/sundials.hpp"
#include "support/residual.hpp"

using namespace airtally;
using namespace airtally::agreement;
using solve::Network;
using solve::TipState;

namespace {

/// (V/RT) dp/dt = net inflow, for the nodes that have a volume and something to flow through.
struct Motion {
  const Ours& ours;
  mutable std::vector<double> net;

  explicit Motion(const Ours& o) : ours(o), net(o.network->nodes.size()) {}

  static int rate(double, N_Vector x, N_Vector f, void* data) {
    const Motion& m = *static_cast<const Motion*>(data);
    const auto p = span_of(x), r = span_of(f);
    for (const double value : p)
      if (!(value > 0.0)) return 1;
    support::net_inflow(*m.ours.network, p, m.net);
    for (std::size_t i = 0; i < r.size(); ++i) {
      const double volume = m.ours.network->nodes[i].volume;
      r[i] = volume > 0.0 ? m.net[i] * m.ours.network->air.rt / volume : 0.0;
    }
    return 0;
  }
};

Difference against_cvode(const Ours& ours) {
  const std::size_t n = ours.network->nodes.size();
  Motion motion(ours);
  Sundials sundials(n);
  N_Vector x = sundials.vector(std::vector<double>(n, ours.network->ambient));
  void* memory = CVodeCreate(CV_BDF, sundials.context);
  REQUIRE(CVodeInit(memory, Motion::rate, 0.0, x) == 0);
  CVodeSStolerances(memory, 1e-9, 1e-5);
  CVodeSetUserData(memory, &motion);
  CVodeSetLinearSolver(memory, sundials.solver, sundials.matrix);
  CVodeSetMaxNumSteps(memory, 1000000);

  Difference worst;
  std::vector<double> settle(ours.rise.tips.size(), 0.0);
  N_Vector between = sundials.vector(std::vector<double>(n, 0.0));
  const auto vacuum_at = [&](double time, std::size_t k) {
    REQUIRE(CVodeGetDky(memory, time, 0, between) == 0);
    return ours.network->ambient - span_of(between)[ours.watched[k]];
  };
  std::vector<double> last(ours.rise.tips.size(), 0.0);
  std::size_t next = 1;  // the first sample is the start
  for (double t = 0.0; next < ours.rise.samples.size();) {
    const double before = t;
    REQUIRE(CVode(memory, ours.rise.samples.back().time, x, &t, CV_ONE_STEP) >= 0);
    for (; next < ours.rise.samples.size() && ours.rise.samples[next].time <= t; ++next) {
      const study::RiseSample& sample = ours.rise.samples[next];
      for (std::size_t k = 0; k < settle.size(); ++k)
        worst.vacuum = std::max(
            worst.vacuum, std::fabs(vacuum_at(sample.time, k) - sample.vacuum[k]) / ours.rise.tips[k].final_vacuum);
    }
    // The last entry into the band, by halving the step in which it lies.
    for (std::size_t k = 0; k < settle.size(); ++k) {
      const double level = 0.95 * ours.rise.tips[k].final_vacuum;
      const double now = vacuum_at(t, k);
      if (last[k] < level && now >= level) {
        double low = before, high = t;
        for (int i = 0; i < 60; ++i) (vacuum_at(0.5 * (low + high), k) < level ? low : high) = 0.5 * (low + high);
        settle[k] = high;
      }
      last[k] = now;
    }
  }
  for (std::size_t k = 0; k < settle.size(); ++k) {
    CHECK(settle[k] > 0.0);
    worst.settle = std::max(worst.settle, std::fabs(settle[k] / ours.rise.tips[k].settle - 1.0));
  }
  CVodeFree(&memory);
  return worst;
}

/// A place between tubes that are cut into pieces has no volume of its own, and CVODE takes no algebraic equations
/// (IDA does, see ida_test.cpp): here every element brings a little.
line::Line filled(line::Line line) {
  for (line::Element& element : line.elements)
    if (element.volume.value == 0.0) element.volume = 0.05e-6;
  return line;
}

}  // namespace

TEST_CASE("pull-downs as CVODE follows them", "[study][agreement][slow]") {
  Difference worst;
  for (const auto& [name, line, state] : {std::tuple{"jewel setter, open", support::jewel_setter(), TipState::open},
                                          std::tuple{"jewel setter, part", support::jewel_setter(), TipState::part},
                                          std::tuple{"two spindles, part", support::two_spindles(), TipState::part},
                                          std::tuple{"ring, open", support::ring(), TipState::open},
                                          std::tuple{"thin choked, open", support::thin_choked(), TipState::open},
                                          std::tuple{"capillaries, part", support::capillaries(), TipState::part}}) {
    const Ours ours(filled(line), state);
    CAPTURE(name, ours.rise.segments);
    for (std::size_t i = 0; i < ours.network->nodes.size(); ++i) CHECK(ours.network->nodes[i].volume > 0.0);
    const Difference off = against_cvode(ours);
    CHECK(off.vacuum <= 1e-5);
    CHECK(off.settle <= 1e-5);
    worst.vacuum = std::max(worst.vacuum, off.vacuum);
    worst.settle = std::max(worst.settle, off.settle);
  }
  WARN("largest difference to CVODE: " << worst.vacuum << " of the final vacuum, " << worst.settle
                                       << " of the settle time");
}
