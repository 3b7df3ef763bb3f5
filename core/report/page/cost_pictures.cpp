// Two pictures of what the elements cost: how their shares add up, and what each brings by itself.
#include <algorithm>
#include <cmath>

#include "report/bands_text.hpp"
#include "report/page/bars.hpp"
#include "report/page/pictures.hpp"
#include "report/verdicts.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

using study::ElementCost;

constexpr std::size_t most_rows = 16;

/// The elements worth a row: those that cost anything, worst first.
std::vector<const ElementCost*> shown(const Findings& found) {
  std::vector<const ElementCost*> rows;
  for (const ElementCost& cost : found.ranking.elements) {
    const bool costs = cost.leak > 0.0 || cost.fair_share != 0.0 || cost.restriction_gain != 0.0;
    if (costs && rows.size() < most_rows) rows.push_back(&cost);
  }
  return rows;
}

double largest_vacuum(const study::Ranking& ranking) {
  double top = std::abs(ranking.total_loss);
  for (const ElementCost& cost : ranking.elements)
    top = std::max({top, std::abs(cost.leak_gain), std::abs(cost.restriction_gain)});
  return top;
}

std::string name_of(const Findings& found, const ElementCost& cost) {
  return harmless(found.line.elements.at(cost.element).name);
}

std::optional<study::Band> band(const Findings& found, const std::string& key, const ElementCost& cost) {
  return band_of(found.ranking_bands, key, found.line.elements.at(cost.element).name);
}

DataTable shares_table(const Findings& found) {
  const study::Ranking& ranking = found.ranking;
  const double top = largest_vacuum(ranking);
  DataTable table;
  table.caption = "Every element's fair part of what the tip lacks, the worst first";
  table.columns = {{"element", "", "", false}, {"fair share", "rank.fair_share_pa", "", true}};
  const bool banded = found.ranking_bands.has_value();
  if (banded) {
    table.columns.push_back({"nine in ten, from", "bands.low.fair_share_pa", "", true});
    table.columns.push_back({"to", "bands.high.fair_share_pa", "", true});
  }
  for (const ElementCost& cost : ranking.elements) {
    DataTable::Row row{name_of(found, cost), {vacuum_cell(cost.fair_share, top)}, &cost == &ranking.elements.front()};
    if (const auto share = band(found, "fair_share_pa", cost); share)
      row.cells.insert(row.cells.end(), {vacuum_cell(share->low, top), vacuum_cell(share->high, top)});
    table.rows.push_back(std::move(row));
  }
  DataTable::Row whole{"the whole line", {vacuum_cell(ranking.total_loss, top)}, false};
  if (banded) whole.cells.insert(whole.cells.end(), {nothing(), nothing()});
  table.rows.push_back(std::move(whole));
  return table;
}

DataTable costs_table(const Findings& found) {
  const study::Ranking& ranking = found.ranking;
  const double top = largest_vacuum(ranking);
  double leaks = 0.0, slowest = 0.0;
  for (const ElementCost& cost : ranking.elements) {
    leaks += cost.leak;
    slowest = std::max(slowest, std::abs(cost.reach_gain));
  }
  const Scale leak = leak_scale(leaks), times = time_scale(slowest);
  DataTable table;
  table.caption = "What each element lets in, and what it costs by itself";
  table.columns = {{"element", "", "", false},
                   {"leak", "rank.leak_kg_s", leak.unit(), false},
                   {"no leak", "rank.leak_gain_pa", "", true},
                   {"no drop", "rank.restriction_gain_pa", "", true},
                   {"sooner by", "rank.reach_gain_s", times.unit(), false}};
  for (const ElementCost& cost : ranking.elements)
    table.rows.push_back(
        {name_of(found, cost),
         {measured(cost.leak, leak.number(cost.leak)), vacuum_cell(cost.leak_gain, top, true),
          vacuum_cell(cost.restriction_gain, top, true), measured(cost.reach_gain, times.number(cost.reach_gain))},
         &cost == &ranking.elements.front()});
  table.rows.push_back(
      {"the whole line", {measured(leaks, leak.number(leaks)), nothing(), nothing(), nothing()}, false});
  return table;
}

Picture picture(const std::string& id, const std::string& title, const std::string& text,
                const std::vector<std::string>& names, const std::vector<BarBlock>& blocks, const Units& units) {
  Picture result;
  result.id = id;
  result.title = title;
  result.text = text;
  result.on_wide = bars_drawn(id, title, text, names, blocks, units, wide);
  result.on_narrow = bars_drawn(id, title, text, names, blocks, units, narrow);
  return result;
}

}  // namespace

Picture shares(const Findings& found, const Units& units) {
  const study::Ranking& ranking = found.ranking;
  std::vector<std::string> names{"the tip has"};
  BarBlock block{"vacuum at the tip", "", true, {Bar{0.0, ranking.tip_vacuum, {}, "", false, 3}}};
  double at = ranking.tip_vacuum, shown_share = 0.0;
  for (const ElementCost* cost : shown(found)) {
    if (cost->fair_share == 0.0) continue;
    names.push_back(name_of(found, *cost));
    auto share = band(found, "fair_share_pa", *cost);
    if (share) share->low += at, share->high += at, share->median += at;
    block.bars.push_back(Bar{at, cost->fair_share, share, "", true, 1});
    at += cost->fair_share;
    shown_share += cost->fair_share;
  }
  const double rest = ranking.total_loss - shown_share;
  if (std::abs(rest) > 1e-3 * std::abs(ranking.total_loss)) {
    names.emplace_back("all others");
    block.bars.push_back(Bar{at, rest, {}, "", true, 1});
  }
  names.emplace_back("without any loss");
  block.bars.push_back(Bar{0.0, ranking.ideal_vacuum, {}, "", false, 5});
  Picture result = picture("shares", "How the losses add up", rank_verdict(found.line, ranking, units.first()), names,
                           {block}, units);
  result.legend =
      "Each bar begins where the one above it ends: what the tip has, and every element's fair part of the loss, add "
      "up "
      "to what the pump would give a line without leak or restriction.";
  if (found.ranking_bands) result.legend += " Thin lines: nine in ten of the lines that the file's tolerances allow.";
  result.table = shares_table(found);
  return result;
}

Picture costs(const Findings& found, const Units& units) {
  double leaks = 0.0, slowest = 0.0;
  for (const ElementCost& cost : found.ranking.elements) {
    leaks += cost.leak;
    slowest = std::max(slowest, std::abs(cost.reach_gain));
  }
  const Scale leak = leak_scale(leaks), times = time_scale(slowest);
  std::vector<std::string> names;
  BarBlock in{"air let in", leak.unit(), false, {}}, sealed{"won without its leak", "", true, {}},
      bored{"won without its drop", "", true, {}}, sooner{"sooner", times.unit(), false, {}};
  for (const ElementCost* cost : shown(found)) {
    names.push_back(name_of(found, *cost));
    const auto bar = [](bool there, Bar what) { return there ? std::optional(std::move(what)) : std::nullopt; };
    in.bars.push_back(bar(cost->leak > 0.0, {0.0, cost->leak, {}, leak.number(cost->leak), false, 1}));
    sealed.bars.push_back(
        bar(cost->leak > 0.0, {0.0, cost->leak_gain, band(found, "leak_gain_pa", *cost), "", true, 1}));
    bored.bars.push_back(bar(cost->restriction_gain != 0.0,
                             {0.0, cost->restriction_gain, band(found, "restriction_gain_pa", *cost), "", true, 3}));
    sooner.bars.push_back(
        bar(cost->reach_gain != 0.0, {0.0, cost->reach_gain, {}, times.number(cost->reach_gain), false, 4}));
  }
  std::vector<BarBlock> blocks{in, sealed, bored};
  if (slowest > 0.0) blocks.push_back(sooner);
  Picture result = picture("costs", "Where the air comes in, and what each element costs",
                           "Bars for every element: " + rank_verdict(found.line, found.ranking, units.first()), names,
                           blocks, units);
  result.legend =
      "Won: what the tip would gain if that element alone did not leak, or did not restrict. Sooner: time to today's "
      "settled vacuum, won without both.";
  result.table = costs_table(found);
  return result;
}

}  // namespace airtally::report::page
