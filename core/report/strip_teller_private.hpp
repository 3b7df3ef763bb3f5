#pragma once
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <string>
#include <vector>

#include "hunt/readings/beside.hpp"
#include "line/line.hpp"
#include "report/hunt_text.hpp"
#include "report/look.hpp"
#include "report/words.hpp"

namespace airtally::report {

/// What is read from one place to the next in sentences: the cap of a reading, its instrument, its number.
class Teller {
 public:
  Teller(const line::Line& line, const study::Strip& strip, const Look& look)
      : line_(line), strip_(strip), look_(look) {}

  const line::Element& cap(const hunt::Beside& b) const { return line_.elements[strip_.steps[b.step].cap]; }
  bool at_source(const hunt::Beside& b) const { return strip_.steps[b.step].before == b.step; }
  std::string capped(const hunt::Beside& b) const {
    return cap(b).kind == line::Kind::nozzle ? "with " + the(cap(b)) + " blocked" : "capped behind " + the(cap(b));
  }
  /// Whether all of them lie on the way from the step that this one is compared with to its cap.
  bool on_its_way(const hunt::Beside& b, const std::vector<std::size_t>& elements) const {
    std::vector<std::size_t> way;
    for (std::size_t s = b.step; s != b.from; s = strip_.steps[s].before) way.push_back(strip_.steps[s].cap);
    return std::all_of(elements.begin(), elements.end(),
                       [&](std::size_t e) { return std::find(way.begin(), way.end(), e) != way.end(); });
  }
  /// How to come nearer to the pump from there, as far as the instrument stays on the line.
  std::string nearer(const hunt::Beside& b) const {
    std::size_t last = b.step;
    while (strip_.steps[last].before != last && reads(b, strip_.steps[last].before)) last = strip_.steps[last].before;
    const std::string plug = "with a gauge in the plug";
    if (last == b.step)
      return fmt::format(", or {} is off: nearer to the pump that is off the line, so cap there {}", dial(b), plug);
    const std::string step = ": cap it nearer to the pump, step by step, and read the same instrument";
    if (strip_.steps[last].before == last) return step;
    return fmt::format("{} as far as behind {}; nearer still, read {}", step,
                       the(line_.elements[strip_.steps[last].cap]), plug);
  }
  /// "the hose 1, the hose 2 or 3 others".
  std::string either(const std::vector<std::size_t>& elements) const {
    constexpr std::size_t most = 6;
    std::vector<std::string> names;
    for (std::size_t k = 0; k < elements.size() && (k < most || elements.size() == most + 1); ++k)
      names.push_back(the(line_.elements[elements[k]]));
    if (names.size() < elements.size()) names.push_back(std::to_string(elements.size() - names.size()) + " others");
    const std::string last = names.back();
    names.pop_back();
    return names.empty() ? last : fmt::format("{} or {}", fmt::join(names, ", "), last);
  }
  bool several_tips() const { return line::all_of(line_, line::Kind::nozzle).size() > 1; }
  std::string dial(const hunt::Beside& b) const { return dial_name(line_, {b.instrument, b.at, 0.0}); }
  std::string number(const hunt::Beside& b, double si) const {
    return is_gauge(b.instrument) ? vacuum(look_, si) : current_scale(si).text(si);
  }

 private:
  /// Whether its instrument is still on the line at that step.
  bool reads(const hunt::Beside& b, std::size_t step) const {
    const auto& all = strip_.steps[step].readings;
    return b.instrument == hunt::Instrument::plugged ||
           std::any_of(all.begin(), all.end(), [&](const study::StripReading& r) { return r.at == b.at; });
  }

  const line::Line& line_;
  const study::Strip& strip_;
  const Look& look_;
};

}  // namespace airtally::report
