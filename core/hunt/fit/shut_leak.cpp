#include "hunt/fit/shut_leak.hpp"

#include "errors.hpp"
#include "hunt/fit/forward.hpp"
#include "hunt/readings/cut.hpp"
#include "line/variant.hpp"
#include "solve/path_flow.hpp"

namespace airtally::hunt {
namespace {

using line::Kind;
using line::none;
using solve::Role;

/// What a path lets in from outside while its node is at `pressure` [Pa, absolute] [kg/s].
double into(const solve::Path& path, double pressure, const gas::Air& air) {
  const double pa = path.a == solve::outside ? path.outside_pressure : pressure;
  const double pb = path.b == solve::outside ? path.outside_pressure : pressure;
  double guess = 0.0;
  const double flow = solve::path_flow(path, solve::path_ends(path, pa, pb), air, 0.0, guess).m;
  return path.a == solve::outside ? flow : -flow;
}

}  // namespace

bool closes_behind_itself(Kind kind) {
  return kind == Kind::valve || kind == Kind::check_valve || line::is_source(kind);
}

ShutLeak::ShutLeak(const Suspects& suspects, const line::Topology& topology, const Setting& setting, std::size_t shut)
    : per_unit_(suspects.unknowns.size(), 0.0) {
  const Cut here = cut(suspects.line, topology, setting);
  if (here.index[shut] == none) throw DomainError("What was shut is not on the line.");
  const line::Capped fed = line::cap(here.line, line::topology(here.line, false), here.index[shut]);
  const bool with_it = closes_behind_itself(suspects.line.elements[shut].kind);
  const solve::Network network = network_of(here);
  const double pressure = network.ambient - leak_vacuum(suspects.line.site);
  for (std::size_t i = 0; i < suspects.line.elements.size(); ++i) {
    if (here.index[i] == none || (fed.index[here.index[i]] != none && !(with_it && i == shut))) continue;
    inside_.push_back(i);
    const std::vector<int>& paths = network.paths_of[here.index[i]];
    for (const int k : paths) {
      const solve::Path& path = network.paths[k];
      if (suspects.tears[i] && k == torn_path(network, here.index[i])) continue;  // the same flow as a hole
      if ((path.a != solve::outside && path.b != solve::outside) || path.role == Role::restriction) continue;
      if (path.mode == solve::Mode::closed) continue;  // a vent, or the gap under a part where the tip is blocked
      const double flow = into(path, pressure, network.air);
      std::size_t unknown = none;
      for (std::size_t u = 0; u < suspects.unknowns.size(); ++u)
        if (suspects.unknowns[u].element == i &&
            ((suspects.unknowns[u].what == What::leak && path.role == Role::leak) ||
             (suspects.unknowns[u].what == What::seal && path.role == Role::seal && here.index[i] != here.plate)))
          unknown = u;
      (unknown == none ? fixed_ : per_unit_[unknown]) += flow;
    }
  }
}

double ShutLeak::at(std::span<const double> values) const {
  double sum = fixed_;
  for (std::size_t k = 0; k < values.size(); ++k) sum += per_unit_[k] * values[k];
  return sum;
}

}  // namespace airtally::hunt
