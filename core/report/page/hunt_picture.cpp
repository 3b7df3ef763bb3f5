#include <fmt/format.h>

#include <algorithm>

#include "gas/air.hpp"
#include "hunt/beliefs/priors.hpp"
#include "hunt/judgement.hpp"
#include "report/hunt_text.hpp"
#include "report/page/bars.hpp"
#include "report/page/pictures.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

constexpr std::size_t most_suspects = 16;
constexpr double ml_min =
    gas::free_air_density * 1e-6 / 60.0;  // kg/s in one millilitre of free air a minute, as in the JSON of hunt

study::Band band_of(const hunt::Interval& i) { return {i.median, i.low, i.high}; }

std::string percent(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

DataTable table_of(const Findings& found, const Scale& leaks, double top) {
  DataTable table;
  table.caption = "What the readings say of each element, the likeliest culprit first";
  table.columns = {{"element", "", "", false},
                   {"worst", "hunt.worst_probability", "", false},
                   {"leak", "hunt.leak_ml_min.median", leaks.unit(), false},
                   {"from", "hunt.leak_ml_min.low", leaks.unit(), false},
                   {"to", "hunt.leak_ml_min.high", leaks.unit(), false},
                   {"open", "hunt.open_fraction.median", "", false},
                   {"costs", "hunt.cost_pa.median", "", true},
                   {"from", "hunt.cost_pa.low", "", true},
                   {"to", "hunt.cost_pa.high", "", true},
                   {"tested", "", "", false}};
  const auto leak = [&](double si) { return measured(si / ml_min, leaks.number(si)); };
  for (const hunt::Finding& f : found.hunt->elements) {
    DataTable::Row row{harmless(found.line.elements[f.element].name),
                       {},
                       &f == &found.hunt->elements.front() && hunt::verdict(*found.hunt) == hunt::Verdict::sure};
    row.cells = {measured(f.worst_probability, percent(f.worst_probability)),
                 leak(f.leak.median),
                 leak(f.leak.low),
                 leak(f.leak.high),
                 f.open_fraction ? measured(f.open_fraction->median, percent(f.open_fraction->median)) : nothing(),
                 vacuum_cell(f.cost.median, top),
                 vacuum_cell(f.cost.low, top),
                 vacuum_cell(f.cost.high, top),
                 words(f.only_prior && !found.hunt->prior_only ? "no" : "yes")};
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace

Picture suspects(const Findings& found, const Units& units) {
  const hunt::Hunt& hunt = *found.hunt;
  double leak = 0.0, top = 0.0;
  for (const hunt::Finding& f : hunt.elements) {
    leak = std::max(leak, f.leak.median);
    top = std::max(top, f.cost.median);
  }
  const Scale leaks = leak_scale(leak);
  std::vector<std::string> names;
  BarBlock worst{"the worst", "%", false, {}},
      leaked{fmt::format("leak at {:.0f} kPa", 1e-3 * hunt::leak_vacuum(found.line.site)), leaks.unit(), false, {}},
      cost{"costs the tip", "", true, {}};
  for (std::size_t k = 0; k < std::min(hunt.elements.size(), most_suspects); ++k) {
    const hunt::Finding& f = hunt.elements[k];
    names.push_back(harmless(found.line.elements[f.element].name));
    worst.bars.push_back(
        Bar{0.0, f.worst_probability, {}, fmt::format("{:.0f}", 100.0 * f.worst_probability), false, 4});
    leaked.bars.push_back(Bar{0.0, f.leak.median, band_of(f.leak), leaks.number(f.leak.median), false, 1});
    cost.bars.push_back(Bar{0.0, f.cost.median, band_of(f.cost), "", false, 3});
  }
  Picture picture;
  picture.id = "hunt";
  picture.title = "What the readings say: who is it, and how sure is that";
  picture.text = hunt_verdict(found.line, hunt, units.first());
  const std::vector<BarBlock> blocks{worst, leaked, cost};
  picture.on_wide = bars_drawn(picture.id, picture.title, picture.text, names, blocks, units, wide);
  picture.on_narrow = bars_drawn(picture.id, picture.title, picture.text, names, blocks, units, narrow);
  picture.legend =
      "Bars are medians, thin lines hold nine tenths of what is believable after the readings. The worst: the chance "
      "that "
      "no other element's mending would gain the tip more.";
  picture.table = table_of(found, leaks, top);
  return picture;
}

}  // namespace airtally::report::page
