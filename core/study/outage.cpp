#include "study/outage.hpp"

#include <algorithm>
#include <memory>

#include "solve/integrate.hpp"
#include "solve/steady.hpp"
#include "solve/trajectory.hpp"
#include "study/rise.hpp"
#include "study/segments.hpp"

namespace airtally::study {
namespace {

/// Nozzles that hold their part, indices into Hold::tips, which has one for each nozzle of the line.
std::vector<std::size_t> holding(const Hold& held) {
  std::vector<std::size_t> all;
  for (std::size_t k = 0; k < held.tips.size(); ++k)
    if (held.tips[k].judged && held.tips[k].holds()) all.push_back(k);
  return all;
}

/// A line whose sources have stopped, nozzle after nozzle dropping its part.
class Failing {
 public:
  /// `tips`: those that hold their part, indices into Hold::tips.
  Failing(const line::Line& line, const Hold& held, std::span<const std::size_t> tips, solve::Thermal thermal,
          WayBack way) {
    std::vector<solve::TipState> states;
    for (const TipHold& tip : held.tips) states.push_back(tip.state);
    solve::Network network(line, line::topology(line, false), states, cut(line, few_pieces));
    const Standstill standstill(line, network, way);
    solve::Pressures rest;
    solve::Steady(network).solve(network, rest);
    system_ = solve::line_system(network, thermal);
    x_ = system_->state(rest);
    standstill.run(system_->network(), false);
    for (const std::size_t k : tips) {
      const TipHold& tip = held.tips[k];
      all_.push_back({k,
                      system_->pressure_index(network.node_of[tip.element]),
                      network.ambient - tip.needed_vacuum,
                      network.ambient - needed_vacuum(line, tip.element).to_rest,
                      {tip.element, {}, {}}});
    }
  }

  std::vector<TipOutage> run() {
    while (now_ < longest_outage && next_dropped())
      ;
    std::vector<TipOutage> times;
    for (const Held& one : all_) times.push_back(one.times);
    return times;
  }

 private:
  struct Held {
    std::size_t nozzle;   ///< an index into the nozzles
    std::size_t at;       ///< its mouth in the state
    double moves, drops;  ///< pressures at which it has too little [Pa, absolute]
    TipOutage times;
  };

  /// Goes on until the next part drops, which leaves its nozzle open; false when none is left to drop, or none will.
  bool next_dropped() {
    std::vector<Held*> left;
    std::vector<std::size_t> mouths;
    for (Held& one : all_)
      if (!one.times.weight) left.push_back(&one), mouths.push_back(one.at);
    if (left.empty()) return false;
    system_->changed();
    system_->settle_massless(now_, x_);
    solve::Trajectory course(mouths);
    std::vector<double> then = x_;
    const auto dropped = [&](const solve::StepView& step) {
      course.add(step);
      double first = -1.0;
      for (std::size_t w = 0; w < left.size(); ++w)
        if (const double t = step.last[mouths[w]] < left[w]->drops ? -1.0 : course.first_crossing(w, left[w]->drops);
            t >= 0.0 && (first < 0.0 || t < first))
          first = t;
      if (first < 0.0) return true;
      then.resize(step.last.size());
      step.at(std::clamp(first, step.begin, step.end), then);
      now_ = first;
      return false;
    };
    const bool stopped = solve::integrate(*system_, x_, now_, longest_outage, {}, dropped).stopped;
    const double end = stopped ? now_ : longest_outage;
    for (std::size_t w = 0; w < left.size(); ++w) {
      const double moves = course.first_crossing(w, left[w]->moves), weight = course.first_crossing(w, left[w]->drops);
      if (!left[w]->times.moves && moves >= 0.0 && moves <= end) left[w]->times.moves = moves;
      if (stopped && weight >= 0.0 && weight <= end) left[w]->times.weight = weight;
    }
    if (!stopped) return false;
    x_ = then;
    for (const Held* one : left)
      if (one->times.weight) open(*one);
    return true;
  }

  /// The mouth is the outside from now on; its own place must not keep what the part had made of it.
  void open(const Held& one) {
    solve::Network& network = system_->network();
    network.set_tip(one.nozzle, solve::TipState::open);
    const std::vector<double> fresh = system_->state(solve::Pressures(network.nodes.size(), network.ambient));
    const std::size_t per_node = system_->pressure_index(1);
    for (std::size_t u = 0; u < per_node; ++u) x_[one.at + u] = fresh[one.at + u];
  }

  std::unique_ptr<solve::LineSystem> system_;
  std::vector<double> x_;
  std::vector<Held> all_;
  double now_ = 0.0;
};

}  // namespace

std::vector<Outage> outages(const line::Line& as_filed, const Hold& held, solve::Thermal thermal) {
  const std::vector<std::size_t> tips = holding(held);
  if (tips.empty()) return {};
  line::Line line = as_filed;
  line.part->gap = std::max(line.part->gap.high, 0.0);
  std::vector<Outage> all{{WayBack::shut, Failing(line, held, tips, thermal, WayBack::shut).run()}};
  const bool stated = std::all_of(line.elements.begin(), line.elements.end(),
                                  [](const line::Element& e) { return !e.pump || e.pump->back_leak; });
  if (!stated) all.push_back({WayBack::open, Failing(line, held, tips, thermal, WayBack::open).run()});
  return all;
}

}  // namespace airtally::study
