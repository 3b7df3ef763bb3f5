// Random lines of every sort against SUNDIALS' CVODE on a model put together here from the line's description
// (own_line.hpp): once with core's law functions and nothing else of core, once with laws of the tests' own.
#include "study/random.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "agreement/cvode.hpp"
#include "agreement/own_line.hpp"
#include "line/topology.hpp"
#include "solve/integrate.hpp"
#include "solve/isothermal.hpp"
#include "solve/steady.hpp"
#include "support/random_line.hpp"

using namespace airtally;
using namespace airtally::agreement;

namespace {

/// CVODE takes no algebraic equations, so every element brings a little volume of its own. Check valves stay out, as
/// plain restrictions: what CVODE errs in a step goes through one of them one way and never back, and adds up.
line::Line filled_up(line::Line line) {
  for (line::Element& element : line.elements) {
    if (element.volume.value == 0.0) element.volume = 0.05e-6;
    if (element.kind != line::Kind::check_valve) continue;
    element.kind = line::Kind::filter;
    element.cracking.reset();
  }
  return line;
}

struct Worst {
  double moving = 0.0, rest = 0.0;  ///< [Pa] of ambient
  std::size_t places = 0, resting = 0;
};

/// Pull-down from ambient and where it ends, place by place. Nothing when CVODE, whose Jacobian is by differences, does
/// not come to the end within 20,000 steps an interval: what it says before is then not worth its tolerance either.
std::optional<Worst> compare(std::uint64_t seed, const support::Wildness& wildness, LawsOf laws) {
  Worst worst;
  const line::Line line = filled_up(support::random_line(seed, wildness));
  const auto tips = support::random_states(seed, line::all_of(line, line::Kind::nozzle).size());
  const solve::Network network(line, line::topology(line), tips);
  solve::Steady solver(network);
  solve::Pressures rest;
  solver.solve(network, rest);
  solve::Isothermal system(network);
  std::vector<double> x = system.state(solve::Pressures(network.nodes.size(), network.ambient));
  system.settle_massless(0.0, x);

  const OwnLine other(line, tips, laws);
  const std::size_t n = other.volume.size();
  REQUIRE(n == network.nodes.size());
  const auto rate = [&other, n](double, std::span<const double> p, std::span<double> f) {
    if (!std::all_of(p.begin(), p.end(), [](double v) { return v > 0.0; })) {
      std::fill(f.begin(), f.end(), std::nan(""));  // a smaller step, please
      return;
    }
    other.net(p, f);
    for (std::size_t i = 0; i < n; ++i) f[i] *= other.rt / other.volume[i];
  };
  Cvode cvode(rate, std::vector<double>(n, other.ambient), 0.0, 1e-8, std::vector<double>(n, 1e-4), -1, 20000);

  std::size_t nozzle = 0;
  std::vector<bool> counts(line.elements.size(), true);
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    REQUIRE(std::fabs(other.volume[other.place[i]] / network.nodes[network.node_of[i]].volume - 1.0) < 1e-9);
    // The mouth of an open nozzle is the room.
    if (line.elements[i].kind == line::Kind::nozzle) counts[i] = tips[nozzle++] != solve::TipState::open;
  }
  // Litres behind a pinhole take weeks: at the end, what the other side still moves in as much time again says who
  // rests.
  constexpr double last = 1e3, at_rest = 1e-7;
  double time = 0.0;
  std::vector<double> net(n);
  for (const double next : {1e-3, 1e-2, 0.1, 1.0, 10.0, last}) {
    solve::integrate(system, x, time, next, {1e-3, 1e-8}, {});
    try {
      cvode.advance(next);
    } catch (const std::runtime_error&) {
      return std::nullopt;
    }
    time = next;
    other.net(cvode.y(), net);
    for (std::size_t i = 0; i < line.elements.size(); ++i) {
      if (!counts[i]) continue;
      const std::size_t node = static_cast<std::size_t>(network.node_of[i]);
      const double theirs = cvode.y()[other.place[i]];
      const double apart = std::fabs(x[node] - theirs) / network.ambient;
      worst.moving = std::max(worst.moving, apart);
      ++worst.places;
      if (next < last ||
          std::fabs(net[other.place[i]]) * other.rt / other.volume[other.place[i]] * last > at_rest * network.ambient ||
          solver.evaluation().through[node] <= solve::Steady::floor * network.free_flow())
        continue;
      const double off = std::fabs(rest.p[node] - theirs) / network.ambient;
      if (off > 1e-5) {
        CAPTURE(seed, line.elements[i].name, rest.p[node], theirs);
        CHECK(off <= 1e-5);
      }
      worst.rest = std::max(worst.rest, off);
      ++worst.resting;
    }
  }
  return worst;
}

/// Takes as many lines as it needs for `count` that CVODE brings to the end. It gives up on a fifth of those that share
/// the law functions, where a wide way joins two places and its Newton steps run to and fro on a root of the drop.
void compare_all(std::uint64_t first, std::uint64_t count, const support::Wildness& wildness, LawsOf laws) {
  Worst worst;
  std::uint64_t compared = 0, given_up = 0;
  for (std::uint64_t seed = first; compared < count && given_up <= count / 2; ++seed) {
    CAPTURE(seed);
    const std::optional<Worst> one = compare(seed, wildness, laws);
    ++(one ? compared : given_up);
    if (!one) continue;
    worst.moving = std::max(worst.moving, one->moving);
    worst.rest = std::max(worst.rest, one->rest);
    worst.places += one->places;
    worst.resting += one->resting;
  }
  WARN(compared << " lines, " << worst.places << " places and times: largest difference " << worst.moving
                << " of ambient on the way and " << worst.rest << " at " << worst.resting
                << " places at rest; CVODE gave up on " << given_up << " more");
  // CVODE is asked for 1e-8 a step and 1e-4 Pa; what its many steps add up to is a thousand times that.
  CHECK(worst.moving <= 1e-5);
  CHECK(worst.rest <= 1e-5);
  CHECK(compared == count);
  CHECK(worst.places > 20 * count);
  CHECK(worst.resting > 2 * count);
}

}  // namespace

TEST_CASE("200 random lines, at rest and on the way, sharing the law functions alone", "[solve][agreement][slow]") {
  compare_all(1, 200, {.most = 25}, LawsOf::core);
}

TEST_CASE("20 random lines, at rest and on the way, sharing nothing", "[solve][agreement][slow]") {
  compare_all(501, 20, {.most = 10}, LawsOf::own);
}

TEST_CASE("laws written twice from their sources agree", "[laws][agreement]") {
  study::Random random(7);
  const auto between = [&](double a, double b) { return a * std::pow(b / a, random.uniform()); };
  double worst = 0.0;
  for (int i = 0; i < 300; ++i) {
    line::Line line;
    // Two laws at the same ends, the model's two ways of finding them.
    support::Wildness small;
    small.most = 4;
    line = filled_up(support::random_line(9000 + i, small));
    const auto tips = support::random_states(i, line::all_of(line, line::Kind::nozzle).size());
    const OwnLine core(line, tips, LawsOf::core), own(line, tips, LawsOf::own);
    REQUIRE(core.ways.size() == own.ways.size());
    for (std::size_t k = 0; k < core.ways.size(); ++k) {
      const double p1 = between(2e3, 101e3), p2 = p1 * between(0.05, 1.0);
      for (const auto& [a, b] : {std::pair(p1, p2), std::pair(p2, p1)}) {
        const double m = core.ways[k].flow(a, b), other = own.ways[k].flow(a, b);
        CAPTURE(i, k, a, b, m, other);
        if (m != 0.0 || other != 0.0) worst = std::max(worst, std::fabs(m - other) / std::fabs(m));
        if (!(std::fabs(m - other) <= 1e-7 * std::fabs(m))) CHECK(m == other);
      }
    }
    for (std::size_t k = 0; k < core.sources.size(); ++k) {
      const double p = between(3e3, 101e3), m = core.sources[k].pull(p), other = own.sources[k].pull(p);
      CAPTURE(i, k, p);
      if (!(std::fabs(m - other) <= 1e-9 * core.sources[k].pull(101e3))) CHECK(m == other);
    }
  }
  // Bisections here, Newton there: what is left is rounding, most of it in differences of squares near rest.
  WARN("laws written twice: largest relative difference " << worst);
  CHECK(worst <= 1e-7);
}
