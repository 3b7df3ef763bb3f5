#include "study/check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "line/seat.hpp"
#include "line/variant.hpp"
#include "study/cycle_plan.hpp"
#include "study/flattening.hpp"
#include "study/law_limits.hpp"
#include "study/nozzle_notes.hpp"
#include "study/sense.hpp"

namespace airtally::study {
namespace {

using line::none;
using solve::TipState;

/// Collects warnings; each element and kind of trouble is told once, for the state that shows it first.
class Collector {
 public:
  explicit Collector(const line::Line& line) : line_(line), topology_(line::topology(line)) {}

  std::vector<Warning> run() {
    warnings_ = flattening(line_);
    for (std::size_t i = 0; i < line_.elements.size(); ++i) {
      open_end(i);
      seat(i);
    }
    spacing();
    in_state(TipState::open, "with the tips open");
    if (line_.part) in_state(TipState::part, "with the part on");
    std::stable_sort(warnings_.begin(), warnings_.end(),
                     [](const Warning& a, const Warning& b) { return a.element < b.element; });
    return std::move(warnings_);
  }

 private:
  const line::Element& at(std::size_t i) const { return line_.elements[i]; }
  void warn(std::size_t i, std::string sentence) { warnings_.push_back({i, std::move(sentence)}); }

  void open_end(std::size_t i) {
    const line::Element& e = at(i);
    // A reservoir may well hang at the end of a branch; a tee makes no sense there.
    if (e.kind == line::Kind::nozzle || e.kind == line::Kind::plug || e.kind == line::Kind::reservoir) return;
    if (!topology_.beyond[i].empty() || topology_.joined[i] != none) return;
    if (std::find(topology_.joined.begin(), topology_.joined.end(), i) != topology_.joined.end()) return;
    warn(i,
         fmt::format("nothing follows '{}'; its end is taken as plugged. Add a plug to say so, or a nozzle.", e.name));
  }

  /// Said once of all nozzles that stand as far from the next.
  void spacing() {
    if (!line_.part) return;
    const std::vector<std::size_t> nozzles = line::all_of(line_, line::Kind::nozzle);
    std::vector<std::pair<std::size_t, NozzleNotes>> all;
    std::vector<double> apart;
    for (const std::size_t i : nozzles) {
      const line::Element& e = at(i);
      if (!e.spacing) continue;
      const auto known = std::find(apart.begin(), apart.end(), e.spacing->value);
      const std::size_t k = static_cast<std::size_t>(known - apart.begin());
      for (const auto& size : {line_.part->length, line_.part->width}) {
        if (!size || size->value <= e.spacing->value) continue;
        if (known == apart.end()) {
          apart.push_back(e.spacing->value);
          all.emplace_back(i, NozzleNotes());
        }
        all[k].second.add(
            i, fmt::format("the part is {:.2f} mm across, but the next nozzle is {:.2f} mm from {}; "
                           "parts would touch.{}",
                           size->value * 1e3, e.spacing->value * 1e3, NozzleNotes::who,
                           nozzles.size() > 1 ? " Where they carry one part together, leave out 'spacing'." : ""));
        break;
      }
    }
    for (const auto& [first, notes] : all)
      for (std::string& sentence : notes.sentences(line_)) warn(first, std::move(sentence));
  }

  void seat(std::size_t i) {
    if (at(i).kind != line::Kind::nozzle || !line_.part) return;
    line::sealed_diameter(line_, i);  // complains of a rim that is to seal and is not given
    if (const std::string why = line::why_not_closed(line_, i); !why.empty()) warn(i, why + "; it does not hold.");
  }

  bool told(std::size_t i, const std::string& kind) {
    const std::pair key(i, kind);
    if (std::find(told_.begin(), told_.end(), key) != told_.end()) return true;
    told_.push_back(key);
    return false;
  }

  void in_state(TipState state, const char* when) {
    const solve::Network network(line_, topology_, solve::all_tips(line_, state));
    solve::Steady solver(network);
    solve::Pressures x;
    solver.solve(network, x);
    const auto pressure = [&](int node, const solve::Path& path) {
      return node == solve::outside ? path.outside_pressure : x.p[node];
    };

    // Each limit of an element once, whatever the number of states.
    for (Warning& limit : law_limits(line_, network, solver, x, when))
      if (!told(limit.element, "limit " + std::to_string(static_cast<int>(limit.about))))
        warnings_.push_back(std::move(limit));
    for (std::size_t k = 0; k < network.paths.size(); ++k) {
      const solve::Path& path = network.paths[k];
      const laws::Flow& flow = solver.evaluation().flow[k];
      if (path.mode != solve::Mode::active) continue;
      const bool bore = std::holds_alternative<laws::Duct>(path.law) || std::holds_alternative<laws::Passage>(path.law);
      // Choked: the pressure downstream no longer matters.
      const double slope = flow.m >= 0.0 ? flow.dm_dp2 : flow.dm_dp1;
      if (bore && flow.m != 0.0 && slope == 0.0 && !told(path.element, "choked")) {
        const double p1 = pressure(path.a, path), p2 = pressure(path.b, path);
        warn(path.element,
             fmt::format("'{}' is choked {}: {:.1f} kPa before it, {:.1f} kPa behind it (absolute); a stronger pump "
                         "brings no more air through it.",
                         at(path.element).name, when, std::max(p1, p2) / 1e3, std::min(p1, p2) / 1e3));
      }
    }
    const std::vector<bool> fed = network.fed();
    for (std::size_t k = 0; k < network.nozzles.size(); ++k) {
      const std::size_t i = network.nozzles[k];
      if (!fed[network.node_of[topology_.before[i]]] && !told(i, "cut off"))
        warn(i,
             fmt::format("a closed or venting valve cuts '{}' off from every source; it has no vacuum.", at(i).name));
    }
    for (std::size_t i = 0; i < line_.elements.size(); ++i) {
      const auto& gauge = at(i).gauge;
      const double vacuum = network.ambient - x.p[network.node_of[i]];
      if (gauge && gauge->range && vacuum > gauge->range->value && !told(i, "range"))
        warn(i, fmt::format("the gauge at '{}' reads to {:.1f} kPa, but the vacuum there is {:.1f} kPa {}.", at(i).name,
                            gauge->range->value / 1e3, vacuum / 1e3, when));
    }
  }

  const line::Line& line_;
  line::Topology topology_;
  std::vector<Warning> warnings_;
  std::vector<std::pair<std::size_t, std::string>> told_;
};

/// Complains of a [cycle] or [sensor] that cycle() or sense() would refuse, of both at once.
void refuse_broken_tables(const line::Line& line) {
  std::vector<Complaint> complaints;
  const auto gather = [&](const auto& ask) {
    try {
      ask();
    } catch (const BadInput& bad) {
      complaints.insert(complaints.end(), bad.complaints().begin(), bad.complaints().end());
    }
  };
  gather([&] {
    line::topology(line);
    if (line.cycle) plan(line);
  });
  if (line.sensor) gather([&] { sensor_place(line); });
  if (!complaints.empty()) throw BadInput(std::move(complaints));
}

}  // namespace

std::vector<Warning> warnings(const line::Line& line) {
  refuse_broken_tables(line);
  return Collector(line).run();
}

std::vector<Warning> misfits(const line::Line& line, std::span<const line::Part> parts,
                             std::span<const line::Element> nozzles) {
  std::vector<Warning> all;
  for (const line::Part& part : parts) {
    line::Line with_part = line;
    with_part.part = part;
    const std::vector<std::size_t> own = line::all_of(line, line::Kind::nozzle);
    const auto closes = [&](const line::Line& tried) { return line::why_not_closed(tried).empty(); };
    const bool some = closes(with_part) || std::any_of(nozzles.begin(), nozzles.end(), [&](const line::Element& other) {
                        line::Line tried = with_part;
                        for (const std::size_t i : own) {
                          tried.elements[i].restriction = other.restriction;
                          tried.elements[i].rim = other.rim;
                        }
                        return closes(tried);
                      });
    for (const std::size_t i : own) {
      const std::string why = line::why_not_closed(with_part, i);
      if (some || why.empty()) continue;
      all.push_back({i, fmt::format("of [[other-part]] '{}': {}; it does not hold.", part.name, why)});
      break;
    }
  }
  return all;
}

}  // namespace airtally::study
