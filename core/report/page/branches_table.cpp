#include <algorithm>
#include <cmath>

#include "report/page/pictures.hpp"
#include "report/strip_columns.hpp"
#include "report/words.hpp"

namespace airtally::report::page {

DataTable branch_readings(const line::Line& line, const study::Strip& strip) {
  const StripColumn judge{strip.judge, strip.by_current};
  const auto now = reading(strip.whole, judge);
  double top = now.value_or(0.0), change = 0.0;
  for (const study::StripBranch& branch : strip.branches) {
    top = std::max(top, reading(branch.readings, judge).value_or(0.0));
    change = std::max(change, std::abs(branch.change));
  }
  const Scale amperes = current_scale(strip.by_current ? top : 0.0);
  const auto shown = [&](const std::optional<double>& read) {
    return !read ? words("off") : strip.by_current ? measured(*read, amperes.number(*read)) : vacuum_cell(*read, top);
  };
  DataTable table;
  table.caption =
      "One branch off at a time, the opening that it leaves blocked, the line else whole " + state_phrase(strip.tips);
  const std::string unit = strip.by_current ? amperes.unit() : "";
  table.columns = {{"branch off", "", "", false},
                   {strip.by_current ? std::string("ammeter") : "at " + harmless(name(line, strip.judge)), "", unit,
                    !strip.by_current},
                   {"change", "", unit, !strip.by_current}};
  table.rows.push_back({"none", {shown(now), nothing()}, false});
  for (const study::StripBranch& branch : strip.branches) {
    const auto without = reading(branch.readings, judge);
    table.rows.push_back({name(line, branch.off),
                          {shown(without), !without || !now   ? nothing()
                                           : strip.by_current ? measured(*without - *now, amperes.gain(*without - *now))
                                                              : vacuum_cell(branch.change, change, true)},
                          false});
  }
  return table;
}

}  // namespace airtally::report::page
