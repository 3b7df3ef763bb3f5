// Laminar networks, which are linear in p^2: against Eigen's sparse LDLT and against a closed form.
#include <Eigen/Sparse>
#include <catch2/catch.hpp>
#include <cmath>

#include "solve/answer.hpp"
#include "study/random.hpp"
#include "support/lines.hpp"

using namespace airtally;
using namespace airtally::solve;
using Catch::Matchers::WithinRel;

namespace {

/// A random line of filters with laminar leaks, some closed to loops, its tips blocked.
line::Line laminar(std::uint64_t seed) {
  study::Random random(seed);
  support::Builder b;
  std::vector<std::string> ends{"pump"};
  b.pump("pump", {{0, 1.0 + 20.0 * random.uniform()}, {40e3 + 50e3 * random.uniform(), 0}});
  const std::size_t size = 2 + random.below(30);
  for (std::size_t i = 0; i < size; ++i) {
    std::string name("f ");
    name += std::to_string(i);
    b.filter(name, std::pow(10.0, 3.0 * random.uniform() - 2.0), 1e3).after(ends[random.below(ends.size())]);
    if (random.uniform() < 0.6) b.leak(support::rated(std::pow(10.0, 4.0 * random.uniform() - 4.0)));
    if (i > 2 && random.uniform() < 0.25) b.joins(ends[1 + random.below(ends.size() - 1)]);
    ends.push_back(name);
  }
  b.nozzle("nozzle", 1e-3, 5e-3, 2e-3).after(ends.back());
  return b.line;
}

}  // namespace

TEST_CASE("laminar networks as a sparse linear solve finds them", "[solve][agreement]") {
  double worst = 0.0;
  int loops = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    const line::Line line = laminar(seed);
    line::Topology topology;
    try {
      topology = line::topology(line);
    } catch (const BadInput&) {
      continue;  // the dice made a loop of joins alone
    }
    const Network network(line, topology, all_tips(line, TipState::blocked));
    Steady solver(network);
    Pressures x;
    solver.solve(network, x);

    // The pump as the source of what it takes; ambient's square as the drive. A conductance per path, from the file's
    // own figures and not from the network.
    const double pa2 = network.ambient * network.ambient;
    std::vector<Eigen::Triplet<double>> entries;
    const auto n = static_cast<long>(topology.places);
    Eigen::VectorXd drive = Eigen::VectorXd::Zero(n);
    const auto k_of = [&](double m, double vacuum) {
      const double p = network.ambient - vacuum;
      return m / (pa2 - p * p);
    };
    int edges = 0;
    for (std::size_t i = 0; i < line.elements.size(); ++i) {
      const auto tip = static_cast<long>(topology.place[i]);
      for (const line::Leak& leak : line.elements[i].leaks) {
        const double k = k_of(std::get<line::RatedLeak>(leak).flow.value, 60e3);
        entries.emplace_back(tip, tip, k);
        drive[tip] += k * pa2;
      }
      double k = 1e-14;  // the blocked nozzle: any conductance will do, as nothing flows
      if (const auto* filter = std::get_if<line::RatedDrop>(&line.elements[i].restriction))
        k = k_of(filter->flow.value, filter->drop.value);
      else if (line.elements[i].kind != line::Kind::nozzle)
        continue;
      const auto pump = static_cast<long>(topology.place[topology.before[i]]);
      if (pump == tip) continue;
      ++edges;
      entries.emplace_back(tip, tip, k);
      entries.emplace_back(pump, pump, k);
      entries.emplace_back(tip, pump, -k);
      entries.emplace_back(pump, tip, -k);
    }
    loops += edges > n - 1;  // a tree on n places has n - 1
    const auto pump = static_cast<long>(topology.place[0]);
    drive[pump] -= solver.evaluation().pull[0].m;
    bool leaks = false;
    for (const line::Element& e : line.elements) leaks = leaks || !e.leaks.empty();
    if (!leaks) continue;  // all at the pump's ultimate pressure: nothing for the linear solve to hold on to
    Eigen::SparseMatrix<double> matrix(n, n);
    matrix.setFromTriplets(entries.begin(), entries.end());
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> ldlt(matrix);
    const Eigen::VectorXd squares = ldlt.solve(drive);
    CAPTURE(seed, n);
    for (long i = 0; i < n; ++i) {
      const double off = std::fabs(std::sqrt(squares[i]) - x.p[i]) / (network.ambient - x.p[i]);
      worst = std::max(worst, off);
      CHECK(off <= 1e-6);
    }
    // The pump's own line: free flow falling to none at the ultimate vacuum.
    const auto& curve = line.elements[0].pump->flow;
    const double vacuum = network.ambient - x.p[pump];
    CHECK_THAT(solver.evaluation().pull[0].m,
               WithinRel(curve[0].value.value * (1.0 - vacuum / curve[1].vacuum.value), 1e-9));
  }
  WARN("largest difference to the linear solve, relative to the vacuum: " << worst << "; " << loops << " with loops");
  CHECK(loops > 20);
}

TEST_CASE("a linear line in closed form", "[solve][closed-form]") {
  // Pump m = c (p0 - pu), filter k1, leak k2: K (pa^2 - p0^2) = c (p0 - pu) with K = k1 k2/(k1 + k2), a quadratic in
  // p0.
  for (const double leak : {1e-4, 0.01, 0.3, 5.0}) {
    support::Builder b;
    b.pump("pump", {{0, 6}, {80e3, 0}})
        .filter("filter", 4, 2e3)
        .leak(support::rated(leak))
        .nozzle("n", 1e-3, 5e-3, 2e-3);
    const SteadyAnswer answer = steady(b.line, all_tips(b.line, TipState::blocked));
    const double pa = 101325.0, pu = pa - 80e3, c = support::free_litres(6.0) / 80e3;
    const auto k = [&](double litres, double drop) {
      return support::free_litres(litres) / (pa * pa - (pa - drop) * (pa - drop));
    };
    const double k1 = k(4.0, 2e3), k2 = k(leak, 60e3), joint = k1 * k2 / (k1 + k2);
    const double p0 =
        2.0 * (c * pu + joint * pa * pa) / (c + std::sqrt(c * c + 4.0 * joint * (c * pu + joint * pa * pa)));
    const double p1 = std::sqrt((k2 * pa * pa + k1 * p0 * p0) / (k1 + k2));
    CAPTURE(leak);
    CHECK_THAT(answer.elements[0].pressure, WithinRel(p0, 1e-10));
    CHECK_THAT(answer.elements[1].pressure, WithinRel(p1, 1e-10));
    CHECK_THAT(answer.elements[1].leak, WithinRel(k2 * (pa * pa - p1 * p1), 1e-8));
  }
}
