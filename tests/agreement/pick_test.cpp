// A pick from the valve's command to the part held: valve opens over its ramp, the nozzle comes down and touches.
// Followed through the same events by SUNDIALS' CVODE (6.4) with a right-hand side put together here, in other unknowns
// (mass and internal energy in place of pressures), that shares nothing with ours but the law functions and the list of
// places and paths.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "agreement/cvode.hpp"
#include "read/line_file.hpp"
#include "solve/answer.hpp"
#include "solve/path_flow.hpp"
#include "solve/steady.hpp"
#include "study/cycle_plan.hpp"
#include "study/cycle_run.hpp"
#include "study/segments.hpp"
#include "support/lines.hpp"

using namespace airtally;
using agreement::Cvode;
using solve::Mode;
using solve::Network;
using solve::Role;
using solve::Thermal;
using solve::TipState;

namespace {

/// What moves for one head, and when [s].
struct Head {
  int valve = -1, closing = -1, mouth = -1;
  std::size_t nozzle = 0;
  double opens = 0.0, opened = 0.0, approach = 0.0, touch = 0.0;
  double gap = 0.0, height = 0.0, speed = 0.0;  ///< [m], [m], [m/s]
};

class Pick {
 public:
  Pick(const line::Line& line, int segments, Thermal thermal)
      : network_(line, line::topology(line), solve::all_tips(line, TipState::open), study::cut(line, segments)),
        thermal_(thermal == Thermal::wall) {
    const line::Cycle& cycle = *line.cycle;
    for (std::size_t k = 0; k < network_.nozzles.size(); ++k) {
      const std::size_t nozzle = network_.nozzles[k];
      Head head;
      head.nozzle = k;
      head.mouth = network_.node_of[nozzle];
      double delay = 0.0;
      for (const line::HeadSchedule& own : cycle.heads)
        if (own.nozzle == line.elements[nozzle].name) delay = own.delay.value;
      std::size_t valve = line::topology(line).before[nozzle];
      while (line.elements[valve].kind != line::Kind::valve) valve = line::topology(line).before[valve];
      head.valve = network_.paths_of[valve].front();
      head.opens = cycle.valve_on.value + delay + line.elements[valve].valve->opens.value;
      head.opened = head.opens + line.elements[valve].valve->ramp.value;
      head.gap = line.part->gap.value;
      head.height = cycle.approach_height.value;
      head.speed = cycle.approach_speed.value;
      head.touch = cycle.touch.value + delay;
      head.approach = head.touch - (head.height - head.gap) / head.speed;
      head.closing = static_cast<int>(network_.paths.size());
      const auto& bore = std::get<line::Bore>(line.elements[nozzle].restriction);
      network_.paths.push_back(
          {solve::outside, head.mouth, network_.ambient,
           laws::FaceGap{head.height, 0.5 * bore.bore.value, 0.5 * line.elements[nozzle].rim->value}, Role::vent,
           nozzle, Mode::closed, Mode::closed});
      heads_.push_back(head);
    }
    find_tubes();
  }

  /// Pressures at the nozzles' mouths [Pa], one row per time; `times` rise.
  std::vector<std::vector<double>> follow(const std::vector<double>& times) {
    std::vector<double> stops{times.back()};
    for (const Head& head : heads_)
      for (double t : {head.opens, head.opened, head.approach, head.touch}) stops.push_back(t);
    std::sort(stops.begin(), stops.end());
    stops.erase(std::unique(stops.begin(), stops.end()), stops.end());

    set(-1.0);
    solve::Pressures rest(network_.nodes.size(), network_.ambient);
    solve::Steady(network_).solve(network_, rest);
    std::vector<double> start, small;
    for (std::size_t i = 0; i < rest.p.size(); ++i)
      for (double value : unknowns(i, rest.p[i])) {
        start.push_back(value);
        small.push_back(1e-10 * value);
      }
    Cvode cvode([this](double t, std::span<const double> y, std::span<double> f) { rate(t, y, f); }, start, 0.0, 1e-10,
                small);
    std::vector<std::vector<double>> rows;
    double now = 0.0;
    std::size_t next = 0;
    for (double stop : stops) {
      if (stop <= now) continue;
      set(0.5 * (now + stop));
      for (const Head& head : heads_)
        if (now == head.approach) {  // the mouth was the outside until now
          const std::vector<double> fresh = unknowns(static_cast<std::size_t>(head.mouth), network_.ambient);
          std::copy(fresh.begin(), fresh.end(), cvode.y().begin() + static_cast<std::ptrdiff_t>(first(head.mouth)));
        }
      cvode.restart(now);
      for (; next < times.size() && times[next] <= stop; ++next) {
        if (times[next] > now) cvode.advance(times[next]);
        std::vector<double> row;
        for (const Head& head : heads_) row.push_back(pressure(cvode.y(), head.mouth));
        rows.push_back(std::move(row));
      }
      if (next == 0 || times[next - 1] < stop) cvode.advance(stop);
      now = stop;
      if (next == times.size()) break;
    }
    return rows;
  }

 private:
  std::size_t per_node() const { return thermal_ ? 2 : 1; }
  std::size_t first(int node) const { return per_node() * static_cast<std::size_t>(node); }

  /// Mass [kg], and internal energy [J] where temperatures move, of place `i` at pressure `p` and the site's
  /// temperature.
  std::vector<double> unknowns(std::size_t i, double p) const {
    const double mass = p * network_.nodes[i].volume / network_.air.rt;
    return thermal_ ? std::vector<double>{mass, mass * gas::cv * network_.air.temperature} : std::vector<double>{mass};
  }
  double temperature(std::span<const double> y, int node) const {
    const std::size_t k = first(node);
    return thermal_ ? y[k + 1] / (y[k] * gas::cv) : network_.air.temperature;
  }
  double pressure(std::span<const double> y, int node) const {
    return y[first(node)] * gas::R * temperature(y, node) / network_.nodes[static_cast<std::size_t>(node)].volume;
  }

  /// Modes of all paths in the stretch around `t`.
  void set(double t) {
    for (const Head& head : heads_) {
      network_.paths[head.valve].mode = t < head.opens ? Mode::closed : Mode::active;
      const bool near = t > head.approach && t < head.touch;
      network_.set_tip(head.nozzle, t < head.approach ? TipState::open : near ? TipState::blocked : TipState::part);
      network_.paths[head.closing].mode = near ? Mode::active : Mode::closed;
    }
  }

  /// For each path the places beyond its ends in the same tube.
  void find_tubes() {
    beyond_.resize(network_.paths.size(), {-1, -1});
    for (std::size_t one = 0; one < network_.paths.size(); ++one)
      for (std::size_t two = 0; two < network_.paths.size(); ++two) {
        const solve::Path &a = network_.paths[one], &b = network_.paths[two];
        if (one == two || a.element != b.element || a.role != Role::restriction || b.role != Role::restriction)
          continue;
        if (a.b != b.a) continue;
        beyond_[two].first = a.a;
        beyond_[one].second = b.b;
      }
  }

  void rate(double t, std::span<const double> y, std::span<double> f) {
    for (const Head& head : heads_) {
      const double open = head.opened > head.opens ? (t - head.opens) / (head.opened - head.opens) : 1.0;
      network_.paths[head.valve].scale = std::clamp(open, 0.0, 1.0);
      std::get<laws::FaceGap>(network_.paths[head.closing].law).gap =
          std::clamp(head.gap + head.speed * (head.touch - t), head.gap, head.height);
    }
    const double site = network_.air.temperature;
    std::fill(f.begin(), f.end(), 0.0);
    const auto give = [&](int node, double mass, double energy) {
      if (node == solve::outside) return;
      f[first(node)] += mass;
      if (thermal_) f[first(node) + 1] += energy;
    };
    for (std::size_t k = 0; k < network_.paths.size(); ++k) {
      const solve::Path& path = network_.paths[k];
      if (path.mode == Mode::closed) continue;
      const auto p = [&](int node) { return node == solve::outside ? path.outside_pressure : pressure(y, node); };
      const auto temp = [&](int node) { return node == solve::outside ? site : temperature(y, node); };
      const double pa = p(path.a), pb = p(path.b);
      const bool forward = pa >= pb;
      const int up = forward ? path.a : path.b, down = forward ? path.b : path.a;
      const auto [beyond_a, beyond_b] = beyond_[k];
      const bool piece = beyond_a >= 0 || beyond_b >= 0;
      double guess = 0.0;
      const double m = solve::path_flow(path, solve::path_ends(path, pa, pb),
                                        gas::air_at(piece ? 0.5 * (temp(up) + temp(down)) : temp(up)), 0.0, guess)
                           .m;
      // The slope of van Albada, van Leer and Roberts (1982) where the flow comes from within a tube.
      double carried = temp(up);
      const int before = forward ? beyond_a : beyond_b;
      if (before >= 0) {
        const double a = (temp(up) - temp(before)) / site, b = (temp(down) - temp(up)) / site, e = 1e-6;
        carried += 0.5 * site * ((b * b + e) * a + (a * a + e) * b) / (a * a + b * b + 2.0 * e);
      }
      give(path.a, -m, -m * gas::cp * carried);
      give(path.b, m, m * gas::cp * carried);
    }
    for (const solve::Source& source : network_.sources) {
      const double at_site = source.at(pressure(y, source.node)).m;
      const double warm = temperature(y, source.node);
      give(source.node, -at_site * site / warm, -at_site * gas::cp * site);
    }
    if (!thermal_) return;
    const double conductivity = gas::cp * gas::viscosity(site) / 0.71;  // Prandtl number of air, 0.71
    for (std::size_t i = 0; i < network_.nodes.size(); ++i)
      f[2 * i + 1] += network_.nodes[i].exchange * conductivity * (site - temperature(y, static_cast<int>(i)));
  }

  Network network_;
  bool thermal_;
  std::vector<Head> heads_;
  std::vector<std::pair<int, int>> beyond_;
};

/// A place between cut tubes has no volume of its own, and CVODE takes no algebraic equations: every element brings a
/// little.
line::Line filled(line::Line line) {
  for (line::Element& element : line.elements)
    if (element.volume.value == 0.0) element.volume = 0.02e-6;
  return line;
}

line::Cycle schedule() {
  line::Cycle cycle;
  cycle.valve_on = 0.01;
  cycle.approach_height = 0.4e-3;
  cycle.approach_speed = 20e-3;
  cycle.touch = 0.06;
  cycle.place = 0.35;
  return cycle;
}

line::Line jewel_setter() {
  line::Line line = filled(read::read_line(AIRTALLY_LINES "/jewel-setter.toml"));
  line.cycle = schedule();
  for (line::Element& element : line.elements)
    if (element.valve) {
      element.valve->opens = 5e-3;
      element.valve->ramp = 4e-3;
    }
  return line;
}

/// Two heads on one pump; the second is late, and its open nozzle shows in the first one's vacuum.
line::Line two_heads() {
  support::Builder b;
  b.pump("pump", {{0.0, 12.0}, {75e3, 0.0}}, 10e-6).tube("supply", 4e-3, 0.6).tee("tee", 1e-6);
  for (const char* n : {"1", "2"}) {
    b.valve(std::string("valve ") + n, 0.25).after("tee").volume(0.3e-6);
    b.tube(std::string("hose ") + n, 2.5e-3, 0.4);
    b.nozzle(std::string("nozzle ") + n, 0.8e-3, 6e-3, 1.6e-3);
  }
  b.part(10e-6, 5e-6);
  b.line.cycle = schedule();
  b.line.cycle->heads.push_back({"nozzle 2", 0.07, {}});
  for (line::Element& element : b.line.elements)
    if (element.valve) {
      element.valve->opens = 6e-3;
      element.valve->ramp = 3e-3;
    }
  return filled(b.line);
}

}  // namespace

TEST_CASE("a nozzle that comes down and touches, on one head and two, as CVODE follows it",
          "[study][agreement][slow]") {
  for (const line::Line& line : {jewel_setter(), two_heads()})
    for (Thermal thermal : {Thermal::isothermal, Thermal::wall}) {
      CAPTURE(line.title, line.elements.size(), static_cast<int>(thermal));
      study::CycleOptions options;
      options.thermal = thermal;
      options.relative = 1e-9;
      options.absolute = 1e-4;
      const line::Topology topology = line::topology(line);
      const study::CycleRun ours = study::play(line, topology, study::plan(line), options);
      CHECK(ours.worst_balance < 1e-8);

      std::vector<double> times;
      for (int s = 0; s <= 400; ++s) times.push_back(0.349 * s / 400.0);
      Pick pick(line, options.segments, thermal);
      const auto theirs = pick.follow(times);
      REQUIRE(theirs.size() == times.size());
      double worst = 0.0, when = 0.0, deepest = 0.0;
      for (std::size_t s = 0; s < times.size(); ++s)
        for (std::size_t k = 0; k < theirs[s].size(); ++k) {
          deepest = std::max(deepest, ours.ambient - theirs[s][k]);
          const double off = std::fabs(ours.trajectory.at(k, times[s]) - theirs[s][k]);
          if (off > worst) {
            worst = off;
            when = times[s];
          }
        }
      CAPTURE(when);
      CHECK(deepest > 20e3);
      CHECK(worst <= 1e-5 * deepest);
      WARN("largest difference to CVODE: " << worst / deepest << " of the deepest vacuum, at " << when << " s");
    }
}
