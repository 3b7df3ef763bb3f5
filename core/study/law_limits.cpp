#include "study/law_limits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "units/show.hpp"

namespace airtally::study {
namespace {

constexpr double laminar_limit = 1000.0;  ///< Reynolds number up to which a slot's friction is laminar
constexpr double slip_limit = 0.1;        ///< Knudsen number; the usual end of first-order slip, common practice
constexpr double drop_limit = 0.1;        ///< of what the line could pull

/// One finding; `size` orders those of a kind.
struct Finding {
  About kind;
  double size;
  std::size_t element;
  std::string sentence;
};

struct State {
  double m = 0.0;                ///< size of the flow [kg/s]
  double high = 0.0, low = 0.0;  ///< pressures at the ends [Pa]
  double drop() const { return high - low; }
};

class Limits {
 public:
  Limits(const line::Line& line, const gas::Air& air, double ambient, double deepest, const std::string& when)
      : line_(line), air_(air), ambient_(ambient), deepest_(deepest), when_(when) {}

  void check(const solve::Path& path, const State& s) {
    if (const auto* gap = std::get_if<laws::Clearance>(&path.law)) {
      const double re = laws::clearance_reynolds(*gap, s.m, air_);
      slot(path, "the clearance of", re);
      slip(path, "the clearance of", s, gap->gap, 6.0);
    } else if (const auto* face = std::get_if<laws::FaceGap>(&path.law)) {
      const double area = 2.0 * std::numbers::pi * face->inner * face->gap;
      // On the gap's hydraulic diameter 2 h, as for the clearance.
      slot(path, "the gap between the part and", 2.0 * face->gap * s.m / (area * air_.viscosity));
      slip(path, "the gap between the part and", s, face->gap, 6.0);
    } else if (const auto* duct = std::get_if<laws::Duct>(&path.law)) {
      slip(path, "", s, duct->bore, 8.0);
      transition(path, *duct, s);
    }
  }

  /// A source that does not run is none that could be outdone.
  void check(const solve::Source& source, double vacuum) {
    const double most = most_of(source);
    if (source.flow_factor <= 0.0 || vacuum <= most + 100.0) return;
    const line::Element& element = line_.elements[source.element];
    const bool ejector = element.kind == line::Kind::ejector;
    findings_.push_back(
        {About::outdone, vacuum - most, source.element,
         fmt::format("'{}' moves no air {}: it pulls {:.1f} kPa at most, and another has {:.1f} kPa there. It is taken "
                     "to pass none back{}",
                     element.name, when_, most / 1e3, vacuum / 1e3,
                     ejector ? ", but the room's air comes in through an ejector's exhaust where no check valve stands "
                               "before it, and takes that vacuum away."
                             : ", as the valves of a pump do.")});
  }

  /// A part on a nozzle without a rim, under which no gap can be counted.
  void check(std::size_t nozzle) {
    const line::Element& element = line_.elements[nozzle];
    const units::Quantity& gap = line_.part->gap;
    if (element.rim || !(gap.high > 0.0)) return;
    findings_.push_back(
        {About::unsealed, 0.0, nozzle,
         fmt::format("'{}' has no rim, so the gap under the part, up to {}, isn't counted: the part is taken to seal. "
                     "Give the nozzle a 'rim', the outer diameter of its mouth.",
                     element.name, units::show_fitting(gap.high, units::Dimension::length, 2))});
  }

  /// One warning for each kind, for where it is worst; the others like it are named behind.
  std::vector<Warning> told() {
    std::stable_sort(findings_.begin(), findings_.end(), [](const Finding& a, const Finding& b) {
      return a.kind != b.kind ? a.kind < b.kind : a.size > b.size;
    });
    std::vector<Warning> all;
    for (std::size_t from = 0, to = 0; from < findings_.size(); from = to) {
      std::vector<std::size_t> elements;
      for (; to < findings_.size() && findings_[to].kind == findings_[from].kind; ++to)
        if (std::find(elements.begin(), elements.end(), findings_[to].element) == elements.end())
          elements.push_back(findings_[to].element);
      const char* so = findings_[from].kind == About::unsealed ? "So it is" : "So it is, no worse,";
      all.push_back({elements.front(), findings_[from].sentence + others(elements, so), findings_[from].kind});
    }
    return all;
  }

 private:
  std::string others(const std::vector<std::size_t>& elements, const char* so) const {
    constexpr std::size_t most = 3;
    std::string names;
    for (std::size_t k = 1; k < std::min(elements.size(), most + 1); ++k)
      names += fmt::format("{}'{}'", k == 1 ? "" : ", ", line_.elements[elements[k]].name);
    if (elements.size() > most + 1) names += fmt::format(" and {} more", elements.size() - most - 1);
    return names.empty() ? "" : fmt::format(" {} with {}.", so, names);
  }
  double most_of(const solve::Source& source) const { return ambient_ - source.ultimate(); }
  std::string named(const solve::Path& path, const char* what) const {
    return fmt::format("{}{}'{}'", what, *what == '\0' ? "" : " ", line_.elements[path.element].name);
  }
  void find(About kind, double size, const solve::Path& path, std::string sentence) {
    findings_.push_back({kind, size, path.element, std::move(sentence)});
  }

  void slot(const solve::Path& path, const char* what, double re) {
    if (re > laminar_limit)
      find(About::fast, re, path,
           fmt::format("{} runs at Reynolds number {:.0f} {}, beyond {:.0f} up to which flow in a gap is laminar; the "
                       "true leak is smaller than computed.",
                       named(path, what), re, when_, laminar_limit));
  }

  void slip(const solve::Path& path, const char* what, const State& s, double width, double factor) {
    const double kn = air_.slip / (0.5 * (s.high + s.low)) / width;
    if (kn <= slip_limit) return;
    find(About::slip, kn, path,
         fmt::format("{} is so narrow {} that air slips along its walls: Knudsen number {:.2f}, beyond {} where "
                     "the slip law holds; slip makes {:.0f} % of its flow, and that part is an estimate.",
                     named(path, what), when_, kn, slip_limit, 100.0 * factor * kn / (1.0 + factor * kn)));
  }

  void transition(const solve::Path& path, const laws::Duct& duct, const State& s) {
    const double re = laws::reynolds(s.m, duct.bore, air_);
    if (re < 2000.0 || re > 4000.0 || s.drop() < drop_limit * deepest_) return;
    // Between Poiseuille's 64/Re and Blasius' 0.316 Re^-1/4 (Moody's chart; both by heart).
    const double laminar = 64.0 / re, turbulent = 0.316 / std::pow(re, 0.25);
    find(About::transition, s.drop(), path,
         fmt::format("{} runs at Reynolds number {:.0f} {}, where flow may be laminar or turbulent; the friction in "
                     "its drop of {:.1f} kPa may be as little as {:.0f} % or as much as {:.0f} % of the middle.",
                     named(path, ""), re, when_, s.drop() / 1e3, 200.0 * laminar / (laminar + turbulent),
                     200.0 * turbulent / (laminar + turbulent)));
  }

  std::vector<Finding> findings_;
  const line::Line& line_;
  const gas::Air& air_;
  double ambient_, deepest_;  // [Pa]
  const std::string& when_;
};

}  // namespace

std::vector<Warning> law_limits(const line::Line& line, const solve::Network& network, const solve::Steady& solver,
                                const solve::Pressures& x, const std::string& when) {
  Limits limits(line, network.air, network.ambient, network.ambient - network.bounds().first, when);
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const solve::Path& path = network.paths[k];
    if (path.mode != solve::Mode::active) continue;
    const auto pressure = [&](int node) { return node == solve::outside ? path.outside_pressure : x.p[node]; };
    const double a = pressure(path.a), b = pressure(path.b);
    const State state{std::abs(solver.evaluation().flow[k].m), std::max(a, b), std::min(a, b)};
    if (state.m > 0.0 && state.drop() > 0.0) limits.check(path, state);
  }
  for (const solve::Source& source : network.sources) limits.check(source, network.ambient - x.p[source.node]);
  for (std::size_t k = 0; k < network.nozzles.size(); ++k)
    if (network.tips[k] == solve::TipState::part) limits.check(network.nozzles[k]);
  return limits.told();
}

Rest at_rest(const line::Line& line, std::span<const solve::TipState> tips) {
  const line::Topology topology = line::topology(line, false);
  const solve::Network network(line, topology, tips);
  solve::Steady solver(network);
  solve::Pressures x;
  const solve::SteadyReport report = solver.solve(network, x);
  return {solve::read_off(line, topology, network, x, solver.evaluation(), report),
          law_limits(line, network, solver, x, "in this state")};
}

}  // namespace airtally::study
