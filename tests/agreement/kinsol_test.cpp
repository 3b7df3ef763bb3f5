// The steady solve against SUNDIALS' KINSOL (6.4): dense, with its own difference-quotient Jacobian, sharing nothing
// with our solver but the law functions.
#include <kinsol/kinsol.h>

#include <cmath>

#include "agreement/sundials.hpp"
#include "solve/answer.hpp"
#include "support/lines.hpp"
#include "support/residual.hpp"

using namespace airtally;
using namespace airtally::solve;

namespace {

/// The network's balance in the pressures of those nodes that anything flows through, over ambient.
struct NodeBalance {
  const Network& network;
  std::vector<int> node;      ///< per unknown
  std::vector<double> scale;  ///< per unknown: 1/(flow through the node at rest)
  mutable std::vector<double> p, net;

  NodeBalance(const Network& n, const Pressures& rest, const std::vector<double>& through)
      : network(n), p(rest.p), net(rest.p.size()) {
    for (std::size_t i = 0; i < p.size(); ++i) {
      if (through[i] <= 1e-12 * n.free_flow())
        continue;  // nothing but rounding: behind a pump beyond its ultimate vacuum
      node.push_back(static_cast<int>(i));
      scale.push_back(1.0 / through[i]);
    }
  }

  static int residual(N_Vector u, N_Vector f, void* data) {
    const NodeBalance& b = *static_cast<const NodeBalance*>(data);
    const auto x = agreement::span_of(u), r = agreement::span_of(f);
    for (std::size_t i = 0; i < x.size(); ++i) {
      if (!(x[i] > 1e-4)) return 1;  // KINSOL takes a shorter step
      b.p[b.node[i]] = x[i] * b.network.ambient;
    }
    support::net_inflow(b.network, b.p, b.net);
    for (std::size_t i = 0; i < r.size(); ++i) r[i] = b.scale[i] * b.net[b.node[i]];
    return 0;
  }

  /// Solves from `start`; empty when KINSOL gives up.
  std::vector<double> solve(const std::vector<double>& start) {
    const std::size_t n = node.size();
    agreement::Sundials sundials(n);
    void* memory = KINCreate(sundials.context);
    N_Vector u = sundials.vector(start), ones = sundials.vector(std::vector<double>(n, 1.0));
    REQUIRE(KINInit(memory, residual, u) == 0);
    KINSetUserData(memory, this);
    KINSetLinearSolver(memory, sundials.solver, sundials.matrix);
    KINSetFuncNormTol(memory, 1e-11);
    KINSetScaledStepTol(memory, 1e-15);
    KINSetNumMaxIters(memory, 500);
    KINSetMaxSetupCalls(memory, 1);  // a new Jacobian each iteration
    KINSetPrintLevel(memory, 0);
    KINSetErrFile(memory, nullptr);
    const int flag = KINSol(memory, u, KIN_LINESEARCH, ones, ones);
    const auto x = agreement::span_of(u);
    std::vector<double> found;
    double norm = 1.0;
    KINGetFuncNorm(memory, &norm);
    if (flag >= 0 && norm < 1e-7) found.assign(x.begin(), x.end());
    KINFree(&memory);
    return found;
  }
};

}  // namespace

TEST_CASE("steady pressures as KINSOL finds them", "[solve][agreement]") {
  double worst = 0.0;
  int cold = 0, cases = 0;
  for (const support::Named& named : support::all_lines())
    for (const TipState state : {TipState::open, TipState::part, TipState::blocked}) {
      const line::Topology topology = line::topology(named.line);
      const Network network(named.line, topology, all_tips(named.line, state));
      Steady solver(network);
      Pressures rest;
      solver.solve(network, rest);
      NodeBalance balance(network, rest, solver.evaluation().through);
      CAPTURE(named.name, static_cast<int>(state));
      REQUIRE(balance.node.size() >= 2);

      // A cold start knows nothing of our answer: pressures falling evenly from 0.97 to 0.9 of ambient. Where KINSOL
      // gives up on it, our answer with every vacuum thrown off by 5 %, up and down in turn, has to do.
      std::vector<double> start;
      const std::size_t n = balance.node.size();
      for (std::size_t i = 0; i < n; ++i) start.push_back(0.9 + 0.07 * static_cast<double>(i) / static_cast<double>(n));
      std::vector<double> found = balance.solve(start);
      ++cases;
      if (!found.empty()) {
        ++cold;
      } else {
        for (std::size_t i = 0; i < n; ++i)
          start[i] = 1.0 - (1.0 - rest.p[balance.node[i]] / network.ambient) * (i % 2 == 0 ? 0.95 : 1.05);
        found = balance.solve(start);
      }
      REQUIRE(found.size() == n);
      for (std::size_t i = 0; i < n; ++i) {
        const int node = balance.node[i];
        const double ours = network.ambient - rest.p[node] - rest.low[node];
        const double theirs = network.ambient * (1.0 - found[i]);
        const double off = std::fabs(theirs - ours) / std::max(std::fabs(ours), 1.0);
        worst = std::max(worst, off);
        CAPTURE(i, ours, theirs);
        CHECK(off <= 1e-6);  // of the vacuum there; below 1 Pa of vacuum, 1e-6 Pa
      }
    }
  WARN("largest difference to KINSOL, relative to the vacuum: " << worst << "; " << cold << " of " << cases
                                                                << " solved from a cold start");
  CHECK(cases == 21);
}
