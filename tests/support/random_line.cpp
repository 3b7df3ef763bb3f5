#include "support/random_line.hpp"

#include <algorithm>
#include <cmath>

#include "study/random.hpp"
#include "support/lines.hpp"

namespace airtally::support {
namespace {

using line::Kind;

/// Numbers are drawn one by one into names and never within the arguments of a call, whose order is the compiler's: the
/// same dice build the same line everywhere.
class Maker {
 public:
  Maker(std::function<double()> uniform, const Wildness& wildness)
      : uniform_(std::move(uniform)), wildness_(wildness) {}

  line::Line make() {
    const auto size = static_cast<std::size_t>(std::floor(log_between(1.0, static_cast<double>(wildness_.most))));
    pump();
    for (std::size_t i = 0; i < size; ++i) element();
    if (chance(0.15)) second_pump();
    if (wildness_.loops) loops();
    ends();
    const double porosity = chance(0.3) ? log_between(1e-5, 1.0) : 0.0;
    const double gap = log_between(1e-6, 200e-6);
    builder_.part(log_between(1e-7, 1e-3), gap, porosity);
    return std::move(builder_.line);
  }

 private:
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(uniform_() * static_cast<double>(count)); }
  bool chance(double share) { return uniform_() < share; }
  double between(double a, double b) { return a + (b - a) * uniform_(); }
  double log_between(double a, double b) { return a * std::pow(b / a, uniform_()); }
  std::string name(const char* word) { return word + std::string(" ") + std::to_string(builder_.line.elements.size()); }

  void pump() {
    const double deepest = between(5e3, 98e3), free = log_between(0.05, 200.0);
    std::vector<std::pair<double, double>> points{{0.0, free}};
    if (chance(0.6)) {
      const double flow = free * between(0.2, 0.8);
      points.emplace_back(deepest * between(0.2, 0.7), flow);
    }
    points.emplace_back(deepest, 0.0);
    builder_.pump(name("pump"), points, chance(0.7) ? log_between(1e-7, 1e-3) : 0.0);
    open_ends_.push_back(builder_.line.elements.back().name);
  }

  /// Puts an element at the newest end, or starts a branch at any end there is.
  void element() {
    const bool branch = chance(0.25);
    const std::size_t at = branch ? below(open_ends_.size()) : open_ends_.size() - 1;
    const std::string from = open_ends_[at];
    const double dice = uniform_();
    if (dice < 0.55)
      tube("tube", 0.1e-3, 20e-3, 2e-3, 3.0);
    else if (dice < 0.65)
      valve();
    else if (dice < 0.70)
      filter();
    else if (dice < 0.72)
      trap();
    else if (dice < 0.77)
      check_valve();
    else if (dice < 0.93)
      builder_.tee(name("tee"), chance(0.3) ? log_between(1e-8, 1e-5) : 0.0);
    else
      builder_.reservoir(name("reservoir"), log_between(1e-6, 1e-2));
    builder_.after(from);
    if (chance(0.35)) leak();
    open_ends_.push_back(builder_.line.elements.back().name);
  }

  void tube(const char* word, double thinnest, double widest, double shortest, double longest) {
    const double length = log_between(shortest, longest);
    builder_.tube(name(word), log_between(thinnest, widest), length);
  }

  void filter() {
    const double drop = log_between(50.0, 20e3);
    builder_.filter(name("filter"), log_between(0.01, 50.0), drop);
  }

  void trap() {
    const double drop = log_between(50.0, 20e3), flow = log_between(0.01, 50.0);
    builder_.trap(name("trap"), flow, drop, log_between(1e-6, 1e-3));
  }

  void check_valve() {
    const double cracking = chance(0.5) ? log_between(10.0, 5e3) : 0.0;
    builder_.check_valve(name("check"), log_between(0.01, 5.0), cracking);
  }

  void valve() {
    line::ValveState state = line::ValveState::open;
    if (wildness_.vents && chance(0.1)) state = chance(0.5) ? line::ValveState::closed : line::ValveState::vent;
    const double critical = between(0.0, 0.6);
    builder_.valve(name("valve"), log_between(0.005, 5.0), critical, state);
    if (state == line::ValveState::vent || chance(0.2)) {
      const double blow_off = chance(0.5) ? log_between(1e3, 400e3) : 0.0;
      builder_.vent(log_between(0.005, 2.0), blow_off);
    }
  }

  void leak() {
    switch (below(4)) {
      case 0:
        builder_.leak(hole(log_between(1e-6, 3e-3)));
        break;
      case 1: {
        const double eccentricity = between(0, 1), length = between(2e-3, 20e-3), diameter = between(2e-3, 20e-3);
        builder_.leak(clearance(log_between(2e-6, 100e-6), diameter, length, eccentricity));
        break;
      }
      default:
        builder_.leak(line::RatedLeak{free_litres(log_between(1e-7, 10.0)), between(1e3, 90e3), chance(0.5)});
    }
  }

  void second_pump() {
    const std::string target = open_ends_[below(open_ends_.size())];
    pump();
    open_ends_.pop_back();
    tube("tube", 0.5e-3, 10e-3, 0.01, 2.0);
    builder_.joins(target);
    open_ends_.push_back(builder_.line.elements.back().name);
  }

  /// A tube from one end that joins another makes a loop with a restriction in it.
  void loops() {
    while (chance(0.25)) {
      const std::string from = open_ends_[below(open_ends_.size())];
      const std::string to = open_ends_[below(open_ends_.size())];
      tube("bridge", 0.1e-3, 20e-3, 2e-3, 1.0);
      builder_.after(from).joins(to);
    }
  }

  void ends() {
    const std::size_t nozzles = 1 + below(4);
    for (std::size_t i = 0; i < nozzles; ++i) {
      const std::string from = i == 0 ? open_ends_.back() : open_ends_[below(open_ends_.size())];
      const double bore = log_between(0.1e-3, 6e-3);
      const double rim = bore * between(1.1, 4.0);
      builder_.nozzle(name("nozzle"), bore, log_between(0.1e-3, 50e-3), rim).after(from);
      if (chance(0.2)) leak();
    }
  }

  std::function<double()> uniform_;
  Wildness wildness_;
  Builder builder_;
  std::vector<std::string> open_ends_;
};

}  // namespace

line::Line random_line(const std::function<double()>& uniform, const Wildness& wildness) {
  return Maker(uniform, wildness).make();
}

line::Line random_line(std::uint64_t seed, const Wildness& wildness) {
  study::Random random(seed);
  return random_line([&random] { return random.uniform(); }, wildness);
}

std::vector<solve::TipState> random_states(std::uint64_t seed, std::size_t nozzles) {
  study::Random random(seed ^ 0x5bd1e995u);
  std::vector<solve::TipState> states(nozzles);
  for (solve::TipState& state : states) state = static_cast<solve::TipState>(random.below(3));
  return states;
}

}  // namespace airtally::support
