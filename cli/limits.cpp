#include "limits.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "line/seat.hpp"
#include "output.hpp"
#include "report/said_in.hpp"
#include "report/width.hpp"
#include "study/flattening.hpp"
#include "study/law_limits.hpp"

namespace airtally::cli {
namespace {

/// Nozzles with tips in this state that the part does not close.
std::vector<std::size_t> unclosed(const line::Line& line, const std::vector<solve::TipState>& tips,
                                  solve::TipState state) {
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  std::vector<std::size_t> found;
  for (std::size_t k = 0; line.part && k < nozzles.size(); ++k)
    if (tips[k] == state && line::seat_of(line, nozzles[k]) != line::Seat::closed) found.push_back(nozzles[k]);
  return found;
}

}  // namespace

std::vector<study::Warning> limits_at_rest(const CommonOptions& common, const line::Line& line,
                                           const std::optional<std::vector<study::Warning>>& known) {
  const std::vector<solve::TipState> tips = tip_states(common, line);
  std::vector<study::Warning> all;
  const auto add = [&](solve::TipState state, study::About about, const char* one, const char* several) {
    const std::vector<std::size_t> found = unclosed(line, tips, state);
    if (found.empty()) return;
    const std::size_t others = found.size() - 1;
    const std::string so = others == 0   ? std::string(". ")
                           : others == 1 ? std::string(". So it is with one other nozzle. ")
                                         : fmt::format(". So it is with {} other nozzles. ", others);
    all.push_back(
        {found.front(), line::why_not_closed(line, found.front()) + so + (others == 0 ? one : several), about});
  };
  if (common.tips.empty())  // open when asked is no news
    add(solve::TipState::open, study::About::left_open, "It is taken to be open.", "They are taken to be open.");
  add(solve::TipState::part, study::About::sealed, "As --tip asks, it is taken to seal.",
      "As --tip asks, they are taken to seal.");
  for (const study::Warning& limit : known ? *known : study::at_rest(line, tips).limits) all.push_back(limit);
  for (study::Warning& soft : study::flattening(line)) all.push_back(std::move(soft));
  return all;
}

KeyedLimits keyed(const line::Line& line, const std::vector<study::Warning>& limits) {
  KeyedLimits all;
  for (const study::Warning& limit : limits) {
    const std::string& name = line.elements[limit.element].name;
    all.emplace_back(name + '\n' + std::to_string(static_cast<int>(limit.about)), limit.sentence);
  }
  return all;
}

void warn(const report::Look& look, const std::vector<study::Warning>& limits) {
  for (const study::Warning& limit : limits)
    complain(report::clean("airtally: take this with care: " + report::said_in(look, limit.sentence)));
}

void warn_of_sweep(const report::Look& look, const std::vector<KeyedLimits>& limits,
                   const std::vector<std::string>& names, const std::vector<std::vector<std::string>>& values) {
  struct Beyond {
    std::string key, sentence;
    std::size_t first, count;
  };
  std::vector<Beyond> all;
  for (std::size_t i = 0; i < limits.size(); ++i)
    for (const auto& [key, sentence] : limits[i]) {
      const auto same = [&, &k = key](const Beyond& one) { return one.key == k; };
      const auto found = std::find_if(all.begin(), all.end(), same);
      if (found == all.end())
        all.push_back({key, sentence, i, 1});
      else
        ++found->count;
    }
  for (const Beyond& one : all) {
    std::string where;
    for (std::size_t k = 0; k < names.size(); ++k)
      where += (k == 0 ? "" : ", ") + names[k] + "=" + values[one.first][k];
    complain(report::clean(fmt::format("airtally: take this with care: at {} of {} values, first at {}: {}", one.count,
                                       limits.size(), where, report::said_in(look, one.sentence))));
  }
}

}  // namespace airtally::cli
