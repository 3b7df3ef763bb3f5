#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>
#include <random>

#include "solve/answer.hpp"
#include "solve/line_system.hpp"
#include "solve/thermal.hpp"
#include "study/rise.hpp"
#include "study/segments.hpp"
#include "support/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using solve::Thermal;
using solve::TipState;

namespace {

solve::Network cut_network(const line::Line& line, int pieces) {
  return {line, line::topology(line, false), solve::all_tips(line, TipState::open), study::cut(line, pieces)};
}

/// A long thin hose between a pump with some volume and a reservoir, and a nozzle.
line::Line hose() {
  support::Builder b;
  b.pump("pump", {{0.0, 8.0}, {70e3, 0.0}}, 6e-6).tube("hose", 2.5e-3, 1.2).reservoir("reservoir", 4e-6);
  b.nozzle("nozzle", 0.8e-3, 5e-3, 1.6e-3);
  return b.line;
}

}  // namespace

TEST_CASE("cutting tubes leaves volume, wall, length and losses as they are", "[solve][property]") {
  for (const auto& [name, line] : support::all_lines()) {
    CAPTURE(name);
    const auto sums = [](const solve::Network& network) {
      std::array<double, 4> sum{};
      for (const solve::Node& node : network.nodes) {
        sum[0] += node.volume;
        sum[1] += node.exchange;
      }
      for (const solve::Path& path : network.paths)
        if (const auto* duct = std::get_if<laws::Duct>(&path.law)) {
          sum[2] += duct->length;
          sum[3] += duct->loss_forward + duct->loss_back;
        }
      return sum;
    };
    const auto whole = sums(cut_network(line, 1));
    for (int pieces : {2, 5})
      for (std::size_t i = 0; i < whole.size(); ++i)
        CHECK_THAT(sums(cut_network(line, pieces))[i], WithinRel(whole[i], 1e-12));
  }
}

// Nu = 3.66: fully developed laminar flow in a round tube with a wall of one temperature, as in any textbook of heat
// transfer (Incropera and DeWitt, table 8.1; from memory). Nu k/D times pi D L is 3.66 pi k L, whatever the bore.
TEST_CASE("air exchanges heat with its walls by a Nusselt number of 3.66", "[solve][closed-form]") {
  double sum = 0.0;
  for (const solve::Node& node : cut_network(hose(), 1).nodes) sum += node.exchange;
  const double pi = std::acos(-1.0);
  // A stated volume has the wall of a cylinder as long as it is wide, ends included.
  const auto cylinder = [&](double volume) { return 1.5 * pi * std::cbrt(4.0 * volume / pi); };
  CHECK_THAT(sum, WithinRel(3.66 * (pi * 1.2 + pi * 5e-3 + cylinder(6e-6) + cylinder(4e-6)), 1e-12));
}

// A tank of half a litre whose wall would be warmed, or not, by that of the hose: 9.20 s at 400 mm and 8.55 s at 402 mm
// where the wall went from the ends into the pieces all at once.
TEST_CASE("a tube that is a little longer settles as the shorter one", "[solve][property]") {
  for (const double bore : {3e-3, 20e-3}) {
    const auto settle = [&](double widths) {
      support::Builder b;
      b.pump("pump", {{0.0, 10.0}, {80e3, 0.0}}).reservoir("tank", 500e-6).tube("hose", bore, widths * bore);
      b.leak(support::hole(0.3e-3)).nozzle("nozzle", 1e-3, 3e-3, 2e-3).part(1e-3, 5e-6);
      return study::rise(b.line, solve::all_tips(b.line, TipState::part)).settle;
    };
    for (const double widths : {10.0, 20.0}) {
      CAPTURE(bore, widths);
      CHECK_THAT(settle(1.001 * widths), WithinRel(settle(0.999 * widths), 2e-3));
    }
  }
}

// The answer for tubes in a few pieces against that in 64, which is within 1e-4 of the limit: the error falls as the
// square of the piece length, so that two pieces are good for 0.5 % and four for 0.15 %.
TEST_CASE("two to four pieces of a tube are enough, however the air exchanges heat", "[solve][property]") {
  for (const line::Line& line : {hose(), support::jewel_setter()})
    for (Thermal thermal : {Thermal::isothermal, Thermal::adiabatic, Thermal::wall})
      for (TipState state : {TipState::open, TipState::blocked}) {
        const auto settle = [&](int pieces) {
          return study::timing(line, solve::all_tips(line, state), 0, 20e3, pieces, thermal).settle;
        };
        const double limit = settle(64), two = settle(2), four = settle(4);
        CAPTURE(line.elements[1].name, static_cast<int>(thermal), static_cast<int>(state), limit, two, four);
        CHECK_THAT(two, WithinRel(limit, 5e-3));
        CHECK_THAT(four, WithinRel(limit, 1.5e-3));
      }
}

// (shift M - df/dx) u = b solved by the system, put back with df/dx u from a central difference of f. Temperatures up
// to 10 % off and flows both ways, so that every kind of coupling counts.
TEST_CASE("the slopes of a line with cut tubes are those of its rates", "[solve][property]") {
  const line::Line line = hose();
  solve::ThermalLine system(cut_network(line, 5), 1.0);
  const std::size_t n = system.size(), nodes = system.network().nodes.size();
  std::mt19937 random(3);
  std::uniform_real_distribution<double> pressure(40e3, 90e3), tau(0.9, 1.1), any(-1.0, 1.0);
  for (int trial = 0; trial < 20; ++trial) {
    std::vector<double> x(n, 0.0), f(n), u(n), plus(n), minus(n);
    for (std::size_t i = 0; i < nodes; ++i) {
      x[2 * i] = pressure(random);
      x[2 * i + 1] = x[2 * i] / tau(random);
    }
    const double shift = 2000.0;
    system.rate_and_factor(0.0, x, shift, f);
    std::vector<double> b(n);
    for (std::size_t i = 0; i < n; ++i) b[i] = shift * system.mass()[i] * any(random);
    u = b;
    system.solve(u);
    const double h = 1e-3 * 1e3;
    double largest = 0.0;
    for (double value : u) largest = std::max(largest, std::fabs(value));
    std::vector<double> ahead = x, behind = x;
    for (std::size_t i = 0; i < n; ++i) {
      ahead[i] += h * u[i] / largest;
      behind[i] -= h * u[i] / largest;
    }
    system.rate(0.0, ahead, plus);
    system.rate(0.0, behind, minus);
    for (std::size_t i = 0; i < n; ++i) {
      const double put_back = shift * system.mass()[i] * u[i] - (plus[i] - minus[i]) * largest / (2 * h);
      const double scale = shift * system.mass()[i] * largest + std::fabs((plus[i] - minus[i]) * largest / (2 * h));
      CAPTURE(trial, i);
      CHECK_THAT(put_back, WithinAbs(b[i], 1e-4 * scale));
    }
  }
}

TEST_CASE("mass and energy of a run with cut tubes are accounted for", "[solve][property]") {
  for (Thermal thermal : {Thermal::isothermal, Thermal::adiabatic, Thermal::wall}) {
    study::RiseOptions options;
    options.thermal = thermal;
    CHECK(study::rise(hose(), solve::all_tips(hose(), TipState::open), options).worst_balance < 1e-8);
  }
}
