#include "hunt/fit/forward.hpp"

#include <algorithm>
#include <utility>

#include "errors.hpp"
#include "line/curves.hpp"
#include "line/variant.hpp"

namespace airtally::hunt {

using line::none;
using solve::Role;
using solve::TipState;

namespace {

constexpr double roughest = 0.1;  ///< roughness that friction is known for, of the bore [-]

}  // namespace

Rig::Rig(const Suspects& suspects, const Cut& here)
    : suspects_(&suspects),
      network_(network_of(here)),
      steady_(network_),
      index_(here.index),
      of_(suspects.line.elements.size()),
      currents_(suspects.line.elements.size()),
      rhs_(network_.nodes.size()) {
  steady_.enough = 1e-7;  // a hundredth of a pascal
  new_plate_ = plate_path(network_, here);
  for (std::size_t k = 0; k < suspects.unknowns.size(); ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    std::vector<int> paths;
    int source = -1;
    const std::size_t i = index_[unknown.element];
    if (unknown.what == What::plate) {
      if (new_plate_ >= 0 && unknown.hole == here.hole) paths.push_back(std::exchange(new_plate_, -1));
    } else if (i != none && unknown.what != What::offset && unknown.what != What::hole_share) {
      of_[unknown.element].push_back(k);
      const Role role = unknown.what == What::leak   ? Role::leak
                        : unknown.what == What::seal ? Role::seal
                                                     : Role::restriction;
      const bool wear = unknown.what == What::pump_flow || unknown.what == What::pump_vacuum;
      if (!wear)
        for (int path : network_.paths_of[i])
          if (network_.paths[path].role == role && !(role == Role::seal && i == here.plate)) paths.push_back(path);
      for (std::size_t s = 0; wear && s < network_.sources.size(); ++s)
        if (network_.sources[s].element == i) source = static_cast<int>(s);
    }
    if (unknown.what == What::hole_share) hole_share_at_ = k;
    tears_.push_back(-1);
    if (unknown.what == What::leak && !paths.empty() && suspects.tears[unknown.element]) {
      tears_.back() = torn_path(network_, i);
      std::erase(paths, tears_.back());
    }
    filed_.emplace_back();
    if (unknown.what == What::bore && !paths.empty())
      filed_.back() = std::get<laws::Duct>(network_.paths[paths.front()].law);
    paths_.push_back(std::move(paths));
    source_.push_back(source);
  }
  const line::Topology topology = line::topology(here.line, false);
  for (std::size_t k = 0; k < network_.nozzles.size(); ++k) {
    const std::size_t i = network_.nozzles[k];
    tip_nodes_.push_back(network_.node_of[network_.tips[k] == TipState::open ? topology.before[i] : i]);
  }
  for (std::size_t i = 0; i < suspects.line.elements.size(); ++i) {
    const auto& pump = suspects.line.elements[i].pump;
    if (!pump || pump->current.empty()) continue;
    currents_[i] = std::make_unique<laws::CurrentCurve>(line::law_points(pump->current), suspects.line.site);
  }
}

int torn_path(const solve::Network& network, std::size_t element) {
  int last = -1;
  for (int path : network.paths_of[element])
    if (network.paths[path].role == Role::leak) last = path;
  return last;
}

bool Rig::concerns(std::size_t unknown) const {
  return !paths_[unknown].empty() || source_[unknown] >= 0 || suspects_->unknowns[unknown].what == What::hole_share;
}

void Rig::set_new_plate(double factor) {
  if (network_.paths[new_plate_].scale == factor) return;
  network_.paths[new_plate_].scale = factor;
  solved_ = false;
}

bool Rig::has(std::size_t element) const { return index_[element] != none; }

void Rig::set(std::size_t unknown, double value) {
  if (suspects_->unknowns[unknown].what == What::bore) {
    const laws::Duct& filed = filed_[unknown];
    for (int path : paths_[unknown]) {
      auto& duct = std::get<laws::Duct>(network_.paths[path].law);
      duct.bore = value * filed.bore;
      duct.roughness = std::min(filed.roughness, roughest * duct.bore);
    }
    return;
  }
  if (tears_[unknown] >= 0) {
    const Torn leak = torn_at(value);
    for (int path : paths_[unknown]) network_.paths[path].scale = leak.own;
    network_.paths[tears_[unknown]].scale = leak.hole;
    return;
  }
  for (int path : paths_[unknown]) network_.paths[path].scale = value;
  if (source_[unknown] < 0) return;
  solve::Source& source = network_.sources[source_[unknown]];
  (suspects_->unknowns[unknown].what == What::pump_flow ? source.flow_factor : source.vacuum_factor) = value;
}

void Rig::apply(std::span<const double> values) {
  if (hole_share_at_ != none) hole_share_ = values[hole_share_at_];
  for (std::size_t k = 0; k < values.size(); ++k) set(k, values[k]);
}

/// A start beyond a weaker pump's ultimate vacuum would be stuck there, so it is brought back first; what does not
/// converge from there is tried from cold.
void Rig::solve_from(solve::Pressures& x) {
  const auto [low, high] = network_.bounds();
  for (std::size_t i = 0; i < x.p.size(); ++i) {
    if (x.p[i] > low && x.p[i] < high) continue;
    x.p[i] = std::clamp(x.p[i], low, high);
    x.low[i] = 0.0;
  }
  try {
    steady_.resolve(network_, x);
  } catch (const NoConvergence&) {
    steady_.solve(network_, x);
  }
}

void Rig::solve(std::span<const double> values) {
  // What changed may be off this line: then it stands as it is.
  bool same = solved_;
  for (std::size_t k = 0; k < values.size() && same; ++k) same = !concerns(k) || values[k] == at_[k];
  if (same) return;
  at_.assign(values.begin(), values.end());
  solved_ = false;  // should it fail
  apply(values);
  factors_ = nullptr;
  if (started_) {
    solve_from(x_);
  } else {
    steady_.solve(network_, x_);
  }
  started_ = solved_ = true;
}

std::size_t Rig::offset_of(Instrument instrument, std::size_t at) const {
  for (std::size_t k = 0; k < suspects_->unknowns.size(); ++k)
    if (suspects_->unknowns[k].error_of(instrument, at)) return k;
  throw DomainError("There is no such instrument on the line.");
}

double Rig::read(Instrument instrument, std::size_t at, std::span<const double> values) const {
  const int node = network_.node_of[index_[at]];
  const double offset = values[offset_of(instrument, at)];
  if (is_gauge(instrument)) return (network_.ambient - x_.p[node]) - x_.low[node] + offset;
  if (instrument == Instrument::current) return currents_[at]->at(x_.p[node]).amperes + offset;
  for (const solve::Source& source : network_.sources)
    if (source.element == index_[at]) return source.at(x_.p[node]).m * (1.0 + offset);
  throw DomainError("Flow is read at a source.");
}

std::vector<double> Rig::tips_at(const solve::Pressures& x) const {
  std::vector<double> vacuum;
  for (int node : tip_nodes_) vacuum.push_back((network_.ambient - x.p[node]) - x.low[node]);
  return vacuum;
}

std::vector<double> Rig::tips() const { return tips_at(x_); }

double Rig::gain(std::size_t element, std::span<const double> values) { return gained(element, values, false); }

double Rig::excess(std::size_t element, std::span<const double> values) {
  const bool worse = std::any_of(of_[element].begin(), of_[element].end(),
                                 [&](std::size_t k) { return suspects_->unknowns[k].worse_than_filed(values[k]); });
  return worse ? gained(element, values, true) : 0.0;
}

double Rig::gained(std::size_t element, std::span<const double> values, bool as_filed) {
  if (of_[element].empty()) return 0.0;
  for (std::size_t k : of_[element]) {
    const Unknown& unknown = suspects_->unknowns[k];
    const double sound = unknown.what == What::leak   ? 0.0
                         : unknown.what == What::seal ? std::min(values[k], unknown.filed())
                                                      : std::max(values[k], 1.0);
    set(k, !as_filed ? sound : unknown.worse_than_filed(values[k]) ? unknown.filed() : values[k]);
  }
  trial_ = x_;
  factors_ = nullptr;
  solved_ = false;  // the flows are those of the trial now
  solve_from(trial_);
  for (std::size_t k : of_[element]) set(k, values[k]);
  const std::vector<double> now = tips(), then = tips_at(trial_);
  double best = 0.0;
  for (std::size_t t = 0; t < now.size(); ++t) best = std::max(best, then[t] - now[t]);
  return best;
}

}  // namespace airtally::hunt
