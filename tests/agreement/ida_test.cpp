// A pull-down with places that have no volume, against SUNDIALS' IDA (6.4), which takes their balances as algebraic
// equations.
#include <ida/ida.h>

#include <cmath>

#include "agreement/pull_down.hpp"
#include "agreement/sundials.hpp"
#include "support/residual.hpp"

using namespace airtally;
using namespace airtally::agreement;
using solve::TipState;

namespace {

line::Line valves_in_a_row() {
  support::Builder b;
  b.pump("pump", {{0, 8}, {75e3, 0}}, 5e-6)
      .valve("valve 1", 0.2)
      .valve("valve 2", 0.15)
      .filter("filter", 4, 3e3)
      .valve("valve 3", 0.3)
      .tube("hose", 2.5e-3, 0.4)
      .leak(support::hole(0.1e-3))
      .nozzle("nozzle", 0.8e-3, 5e-3, 1.6e-3)
      .part(10e-6, 10e-6);
  return b.line;
}

/// 0 = net inflow - (V/RT) dp/dt, in units of the pump's free flow.
int residual(double, N_Vector x, N_Vector dx, N_Vector r, void* data) {
  const Ours& ours = *static_cast<const Ours*>(data);
  const auto p = span_of(x), slope = span_of(dx), f = span_of(r);
  for (const double value : p)
    if (!(value > 0.0)) return 1;
  support::net_inflow(*ours.network, p, f);
  for (std::size_t i = 0; i < f.size(); ++i)
    f[i] = (f[i] - ours.network->nodes[i].volume / ours.network->air.rt * slope[i]) / ours.network->free_flow();
  return 0;
}

}  // namespace

TEST_CASE("places without volume as IDA treats them", "[study][agreement]") {
  Ours ours(valves_in_a_row(), TipState::part);
  const std::size_t n = ours.network->nodes.size();
  std::vector<double> differential;
  for (const solve::Node& node : ours.network->nodes) differential.push_back(node.volume > 0.0 ? 1.0 : 0.0);
  CHECK(std::count(differential.begin(), differential.end(), 0.0) == 4);

  Sundials sundials(n);
  N_Vector x = sundials.vector(std::vector<double>(n, ours.network->ambient));
  N_Vector dx = sundials.vector(std::vector<double>(n, 0.0));
  N_Vector id = sundials.vector(differential);
  // All at ambient, where no flow law has a kink, is in balance for the places without volume; the pump's own place
  // starts to fall at once.
  std::vector<double> net(n);
  support::net_inflow(*ours.network, span_of(x), net);
  for (std::size_t i = 0; i < n; ++i)
    if (differential[i] > 0.0) span_of(dx)[i] = net[i] * ours.network->air.rt / ours.network->nodes[i].volume;
  void* memory = IDACreate(sundials.context);
  REQUIRE(IDAInit(memory, residual, 0.0, x, dx) == 0);
  IDASStolerances(memory, 1e-9, 1e-5);
  IDASetUserData(memory, &ours);
  IDASetId(memory, id);
  IDASetLinearSolver(memory, sundials.solver, sundials.matrix);
  IDASetMaxNumSteps(memory, 1000000);
  REQUIRE(IDACalcIC(memory, IDA_YA_YDP_INIT, 1e-6) == 0);

  double worst = 0.0;
  for (const study::RiseSample& sample : ours.rise.samples) {
    double t = 0.0;
    if (sample.time > 0.0) REQUIRE(IDASolve(memory, sample.time, &t, x, dx, IDA_NORMAL) >= 0);
    const double vacuum = ours.network->ambient - span_of(x)[ours.watched[0]];
    worst = std::max(worst, std::fabs(vacuum - sample.vacuum[0]) / ours.rise.final_vacuum);
  }
  IDAFree(&memory);
  CHECK(worst <= 1e-5);
  WARN("largest difference to IDA: " << worst << " of the final vacuum");
}
