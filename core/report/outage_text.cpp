#include "report/outage_text.hpp"

#include <algorithm>
#include <cmath>

#include "report/safe_side.hpp"
#include "report/table.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::Outage;
using study::WayBack;

/// Never longer than it is.
std::string shown(const std::optional<double>& seconds) {
  if (!seconds) return "over an hour";
  return no_more_than(*seconds, units::Dimension::time);
}

/// Whether it makes no difference what comes back through the source, behind a check valve say.
bool alike(const Outage& a, const Outage& b) {
  constexpr double close = 0.02;
  const auto same = [](const std::optional<double>& x, const std::optional<double>& y) {
    return x.has_value() == y.has_value() && (!x || std::fabs(*x - *y) <= close * *x);
  };
  return std::equal(a.tips.begin(), a.tips.end(), b.tips.begin(), [&](const auto& one, const auto& other) {
    return same(one.moves, other.moves) && same(one.weight, other.weight);
  });
}

/// "12 ms .. 850 ms": from the sooner to the later, which may be the same.
std::string range(const std::optional<double>& sooner, const std::optional<double>& later, bool both) {
  return both ? shown(sooner) + " .. " + shown(later) : shown(sooner);
}

}  // namespace

std::string outage_text(const line::Line& line, std::span<const Outage> outages, const Look& look) {
  if (outages.empty()) return "";
  const Outage &shut = outages.front(), &open = outages.back();
  const bool both = outages.size() > 1 && !alike(shut, open);
  Table table({{"if the vacuum fails", "", true}, {"enough to move"}, {"enough to hang on"}});
  for (std::size_t k = 0; k < open.tips.size(); ++k)
    table.add({name(line, open.tips[k].element), range(open.tips[k].moves, shut.tips[k].moves, both),
               range(open.tips[k].weight, shut.tips[k].weight, both)});
  table.merge_alike(all_tips(open.tips.size()));
  std::string out = table.text(look.style);
  std::string how =
      "if the vacuum fails: for how long, the source standing still and the valves left as they are; at the part's "
      "widest gap. enough to move: with the safety that its moves are given; enough to hang on: its bare weight. ";
  if (both)
    how +=
        "The first time is for a source that lets the room's air in, as an ejector's exhaust does, the second for one "
        "that lets none in, as a pump's valves do when they are tight; its 'back-leak' in the file would tell. ";
  if (shut.tips.size() > 1) how += "A part that has dropped leaves its nozzle open. ";
  how += "A valve that vents when its own power fails lets go at once.";
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  return out;
}

std::string outage_sentence(std::span<const Outage> outages) {
  const Outage &shut = outages.front(), &open = outages.back();
  const bool both = outages.size() > 1 && !alike(shut, open);
  const auto sooner = [](const study::TipOutage& a, const study::TipOutage& b) {
    return a.weight.value_or(study::longest_outage) < b.weight.value_or(study::longest_outage);
  };
  const auto first = std::min_element(open.tips.begin(), open.tips.end(), sooner);
  const study::TipOutage& later = shut.tips.at(static_cast<std::size_t>(first - open.tips.begin()));
  return "If the vacuum fails, the valves left as they are, there is enough to move for " +
         range(first->moves, later.moves, both) + " and enough to hang on for " +
         range(first->weight, later.weight, both) + (both ? ", as the source lets the room's air in or not." : ".");
}

}  // namespace airtally::report
