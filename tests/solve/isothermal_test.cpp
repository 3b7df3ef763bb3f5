// The isothermal line in motion: where it ends, what it holds, and how it gets there.
#include "solve/isothermal.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "solve/answer.hpp"
#include "solve/integrate.hpp"
#include "study/random.hpp"
#include "support/lines.hpp"
#include "support/random_line.hpp"

using namespace airtally;
using namespace airtally::solve;

namespace {

Network network_of(const line::Line& line, std::span<const TipState> tips) {
  return Network(line, line::topology(line), tips);
}

/// Whether every place is in balance to 1e-9 of the pumps' flow at the start, volumes held as they are.
double worst_massless(Isothermal& system, const std::vector<double>& x) {
  std::vector<double> f(x.size());
  system.rate(0.0, x, f);
  double worst = 0.0;
  for (std::size_t i = 0; i < system.network().nodes.size(); ++i)
    if (system.mass()[i] == 0.0) worst = std::max(worst, std::fabs(f[i]));
  return worst / system.network().free_flow();
}

}  // namespace

TEST_CASE("a pull-down ends at the steady answer", "[solve][agreement]") {
  for (const support::Named& named : support::all_lines())
    for (const TipState state : {TipState::open, TipState::part}) {
      const Network network = network_of(named.line, all_tips(named.line, state));
      Steady solver(network);
      Pressures rest;
      solver.solve(network, rest);
      Isothermal system(network);
      std::vector<double> x = system.state(Pressures(network.nodes.size(), network.ambient));
      system.settle_massless(0.0, x);
      const LineSystem::Account before = system.content(x);
      // Ten thousand seconds are ages for millilitres and litres a minute.
      integrate(system, x, 0.0, 1e4, {1e-3, 1e-8}, {});
      CAPTURE(named.name, static_cast<int>(state));
      for (std::size_t i = 0; i < network.nodes.size(); ++i) {
        // Shut off by a check valve or a pump beyond its ultimate vacuum: it keeps what it had.
        if (solver.evaluation().through[i] <= Steady::floor * network.free_flow()) continue;
        CAPTURE(i, x[i], rest.p[i]);
        CHECK(std::fabs(x[i] - rest.p[i]) <= 1e-6 * network.ambient);
      }
      // What is gone from the line has gone out of it.
      const double held = system.content(x).mass - before.mass;
      CHECK(std::fabs(held - system.brought_in(x).mass) <= 1e-9 * before.mass);
    }
}

TEST_CASE("a pull-down never rises", "[solve][property]") {
  // Every flow rises with the pressure it comes from, so with everything at ambient at the start pressures only fall.
  for (const support::Named& named : support::all_lines()) {
    if (std::string(named.name) == "blow off") continue;  // its second branch is blown up from outside
    const Network network = network_of(named.line, all_tips(named.line, TipState::part));
    Isothermal system(network);
    std::vector<double> x = system.state(Pressures(network.nodes.size(), network.ambient));
    system.settle_massless(0.0, x);
    double worst = 0.0;
    integrate(system, x, 0.0, 100.0, {1e-3, 1e-8}, [&](const StepView& step) {
      for (std::size_t i = 0; i < network.nodes.size(); ++i) worst = std::max(worst, step.last[i] - step.first[i]);
      return true;
    });
    CAPTURE(named.name);
    CHECK(worst <= 0.01);  // ten times the absolute tolerance of a step
  }
}

TEST_CASE("places without volume find their balance on any line", "[solve][property]") {
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    const line::Line line = support::random_line(seed);
    const auto tips = support::random_states(seed, line::all_of(line, line::Kind::nozzle).size());
    Isothermal system(network_of(line, tips));
    const std::size_t n = system.network().nodes.size();
    // From ambient, and from a state that a valve might leave: every place somewhere else.
    for (const double share : {0.0, 0.4}) {
      std::vector<double> x = system.state(Pressures(n, system.network().ambient));
      study::Random random(seed);
      const double low = system.network().bounds().first;
      for (std::size_t i = 0; i < n; ++i) x[i] -= share * random.uniform() * (x[i] - low);
      CAPTURE(seed, share);
      REQUIRE_NOTHROW(system.settle_massless(0.0, x));
      CHECK(worst_massless(system, x) <= 1e-9);
    }
  }
}
