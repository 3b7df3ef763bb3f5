#include "support/invariants.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "line/variant.hpp"
#include "solve/integrate.hpp"
#include "solve/isothermal.hpp"
#include "solve/steady.hpp"
#include "study/rise.hpp"
#include "support/lines.hpp"

namespace airtally::support {
namespace {

/// A vacuum is known to the balance's tolerance: 1e-9 of a flow, which behind a slope of the flow near nothing is some
/// 1e-5 Pa. This is ten times that and still a thousandth of what any gauge shows.
constexpr double tolerance = 1e-4;

struct Solved {
  line::Topology topology;
  solve::Network network;
  solve::Steady solver;
  solve::Pressures x;
  solve::SteadyReport report;

  Solved(const line::Line& line, Tips tips)
      : topology(line::topology(line)), network(line, topology, tips), solver(network) {
    report = solver.solve(network, x);
  }
  std::size_t node(std::size_t element) const { return static_cast<std::size_t>(network.node_of[element]); }
  double vacuum(std::size_t node) const { return (network.ambient - x.p[node]) - x.low[node]; }
  /// Nothing runs through it but what the balance's floor leaves open. What a check valve shuts off is given the
  /// pressure of a pull-down's end (solve/shut_places.hpp, with tests of its own), but between two valves that blow-off
  /// holds shut any pressure within their drops is at rest, and elsewhere it is known no closer than the floor leaves
  /// it.
  bool shut_off(std::size_t node) const {
    return solver.evaluation().through[node] <= solve::Steady::floor * network.free_flow();
  }
  bool above_ambient() const {
    return std::any_of(x.p.begin(), x.p.end(), [this](double p) { return p > network.ambient; });
  }
};

}  // namespace

std::string compare(const line::Line& before, const line::Line& after, Tips tips, double sign,
                    const std::string& what) {
  const Solved one(before, tips), two(after, tips);
  for (std::size_t i = 0; i < before.elements.size(); ++i) {
    if (one.shut_off(one.node(i)) || two.shut_off(two.node(i))) continue;
    const double gain = two.vacuum(two.node(i)) - one.vacuum(one.node(i));
    if (!(sign * gain >= -tolerance))
      return fmt::format("{}: the vacuum at '{}' changes by {:.3e} Pa", what, before.elements[i].name, gain);
  }
  return {};
}

std::string same(const line::Line& before, const line::Line& after, Tips tips, double within, const std::string& what) {
  const Solved one(before, tips), two(after, tips);
  for (std::size_t i = 0; i < before.elements.size(); ++i) {
    if (one.shut_off(one.node(i)) || two.shut_off(two.node(i))) continue;
    const double change = two.vacuum(two.node(i)) - one.vacuum(one.node(i));
    if (!(std::fabs(change) <= within))
      return fmt::format("{}: the vacuum at '{}' changes by {:.3e} Pa", what, before.elements[i].name, change);
  }
  return {};
}

std::string balances(const line::Line& line, Tips tips) {
  const Solved s(line, tips);
  if (!(s.report.worst_balance <= solve::Steady::tolerance))
    return fmt::format("the balance at '{}' is off by {:.3e}", line.elements[s.report.worst_element].name,
                       s.report.worst_balance);
  const auto [low, high] = s.network.bounds();
  for (std::size_t i = 0; i < s.x.p.size(); ++i)
    if (!(s.x.p[i] >= low * (1 - 1e-12) && s.x.p[i] <= high * (1 + 1e-12)))
      return fmt::format("the pressure at '{}' is {} Pa, outside {} .. {} Pa",
                         line.elements[s.network.nodes[i].element].name, s.x.p[i], low, high);
  return {};
}

std::string leaks_cost(const line::Line& line, Tips tips, std::size_t i) {
  if (Solved(line, tips).above_ambient()) return {};
  line::Line sealed = line, leaky = line;
  line::seal(sealed.elements[i]);
  leaky.elements[i].leaks.push_back(hole(0.2e-3));
  const std::string& name = line.elements[i].name;
  std::string broken = compare(line, sealed, tips, 1.0, "'" + name + "' sealed");
  if (broken.empty()) broken = compare(line, leaky, tips, -1.0, "a hole in '" + name + "'");
  return broken;
}

std::string stronger_is_no_worse(const line::Line& line, Tips tips) {
  line::Line stronger = line;
  for (line::Element& e : stronger.elements)
    if (e.pump) e.pump->speed = 1.5 * e.pump->speed.value;
  return compare(line, stronger, tips, 1.0, "stronger pumps");
}

std::string order_and_names_are_nothing(const line::Line& line, Tips tips) {
  const Solved before(line, tips);
  line::Line turned = line;
  for (std::size_t i = 0; i < line.elements.size(); ++i)  // "the one before it in the list" would be another one
    if (before.topology.before[i] != line::none)
      turned.elements[i].after = line.elements[before.topology.before[i]].name;
  std::reverse(turned.elements.begin(), turned.elements.end());
  for (line::Element& e : turned.elements)
    for (std::string* name : {&e.name, &e.after, &e.joins})
      if (!name->empty()) *name = "x " + std::string(name->rbegin(), name->rend());
  const std::vector<solve::TipState> turned_tips(tips.rbegin(), tips.rend());
  const Solved after(turned, turned_tips);
  const std::size_t n = line.elements.size();
  for (std::size_t i = 0; i < n; ++i) {
    if (before.shut_off(before.node(i))) continue;
    const double change = after.vacuum(after.node(n - 1 - i)) - before.vacuum(before.node(i));
    if (!(std::fabs(change) <= tolerance))
      return fmt::format("turned round and renamed: the vacuum at '{}' changes by {:.3e} Pa", line.elements[i].name,
                         change);
  }
  return {};
}

std::string a_tube_is_two_halves(const line::Line& line, Tips tips, std::size_t i) {
  const auto* bore = std::get_if<line::Bore>(&line.elements[i].restriction);
  if (bore == nullptr || line.elements[i].kind != line::Kind::tube) return {};
  line::Line cut = line;
  line::Element first = line.elements[i];  // its pump-side half; what hangs at the tip-side end stays there
  first.name = "first half";
  first.leaks.clear();
  first.joins.clear();
  first.gauge.reset();
  first.volume = 0.0;
  if (first.after.empty()) first.after = line.elements[line::topology(line).before[i]].name;
  auto& near = std::get<line::Bore>(first.restriction);
  auto& far = std::get<line::Bore>(cut.elements[i].restriction);
  near.length = far.length = 0.5 * bore->length.value;
  near.loss = 0.0;
  cut.elements[i].after = first.name;
  cut.elements.push_back(first);
  // Of what the first half's end does to the flow, Churchill's factor and the choke are those of a whole tube only to
  // their own accuracy: a ten-thousandth of ambient.
  return same(line, cut, tips, 1e-4 * line.site.pressure, fmt::format("'{}' as two halves", line.elements[i].name));
}

std::string pull_down_ends_at_rest(const line::Line& line, Tips tips) {
  const Solved rest(line, tips);
  solve::Isothermal system(rest.network);
  const std::size_t n = rest.network.nodes.size();
  std::vector<double> x = system.state(solve::Pressures(n, rest.network.ambient));
  system.settle_massless(0.0, x);
  // Litres at the end of a pinhole take weeks; ten thousand days are ages for any line.
  solve::integrate(system, x, 0.0, 1e9, {1e-2, 1e-7}, {});
  for (std::size_t i = 0; i < n; ++i) {
    if (rest.shut_off(i)) continue;
    if (!(std::fabs(x[i] - rest.x.p[i]) <= 1e-5 * rest.network.ambient))
      return fmt::format("the pull-down ends {:.3e} Pa from the steady answer at '{}'", x[i] - rest.x.p[i],
                         line.elements[rest.network.nodes[i].element].name);
  }
  return {};
}

std::string mass_and_energy_close(const line::Line& line, Tips tips) {
  study::RiseOptions options;
  options.samples = 3;
  options.segments = 1;
  const study::Rise rise = study::rise(line, tips, options);
  if (!(rise.worst_balance <= 1e-4))
    return fmt::format("mass or energy is off by {:.3e} over the pull-down", rise.worst_balance);
  return {};
}

std::string broken_invariant(const line::Line& line, Tips tips, double pick, bool moving) {
  const auto i = static_cast<std::size_t>(pick * static_cast<double>(line.elements.size()));
  std::string broken = balances(line, tips);
  if (broken.empty()) broken = leaks_cost(line, tips, i);
  if (broken.empty()) broken = stronger_is_no_worse(line, tips);
  if (broken.empty()) broken = order_and_names_are_nothing(line, tips);
  if (broken.empty()) broken = a_tube_is_two_halves(line, tips, i);
  if (broken.empty() && moving) broken = pull_down_ends_at_rest(line, tips);
  if (broken.empty() && moving) broken = mass_and_energy_close(line, tips);
  return broken;
}

}  // namespace airtally::support
