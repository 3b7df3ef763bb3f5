#include "report/compare_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/bands_text.hpp"
#include "report/plain_number.hpp"
#include "report/table.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::Comparison;
using study::Quality;
using study::Result;
using study::Variant;

constexpr std::size_t block = 5;  // columns of variants that fit beside one another

std::string legend(std::span<const Variant> variants, const Look& look) {
  std::string out;
  for (std::size_t v = 0; v < variants.size(); ++v)
    out += look.style.bold(cut(letter(v) + "  " + clean(variants[v].name), 80, look.style.cut_mark())) + '\n';
  return out;
}

bool arises(const Comparison& comparison, std::size_t r) {
  return std::any_of(comparison.variants.begin(), comparison.variants.end(),
                     [&](const auto& v) { return !std::isnan(v.values[r]); });
}

/// The variants that the best is not ahead of, itself included.
std::string leaders(const Comparison& comparison, std::size_t r) {
  const Result& result = study::results()[r];
  const auto& all = comparison.variants;
  if (!result.ranks) return "";
  double best = std::nan("");
  for (const auto& variant : all)
    if (std::isnan(best) || study::better(result, variant.values[r], best)) best = variant.values[r];
  std::string out;
  std::size_t count = 0, with = 0;
  for (std::size_t v = 0; v < all.size(); ++v) {
    if (std::isnan(all[v].values[r])) continue;
    ++with;
    if (!study::level(result, all[v].values[r], best)) continue;
    ++count;
    out += letter(v);
  }
  return with < 2 ? "" : count == with ? "alike" : out;
}

std::string results_table(const Comparison& comparison, std::size_t begin, std::size_t end, const Look& look) {
  std::vector<Column> columns{{"", "", true}, {"", "", true}};
  for (std::size_t v = begin; v < end; ++v) columns.push_back({letter(v)});
  columns.push_back({"best"});
  Table table(columns);
  for (std::size_t r = 0; r < study::results().size(); ++r) {
    if (!arises(comparison, r)) continue;
    const Result& result = study::results()[r];
    double largest = 0.0;
    for (const auto& variant : comparison.variants)
      if (std::isfinite(variant.values[r])) largest = std::max(largest, std::fabs(variant.values[r]));
    const bool bare = result.quality == Quality::number;
    const Scale scale = scale_of(result.quality, largest, look);
    std::vector<std::string> cells{std::string(result.words), bare ? "" : scale.unit()};
    for (std::size_t v = begin; v < end; ++v) {
      const double value = comparison.variants[v].values[r];
      cells.push_back(std::isnan(value)   ? "-"
                      : std::isinf(value) ? "never"
                      : bare              ? plain_number(value, 3)
                                          : scale.number(value));
    }
    cells.push_back(leaders(comparison, r));
    table.add(cells);
  }
  return table.text(look.style);
}

std::string culprits(std::span<const Variant> variants, const Comparison& comparison, const study::CompareBands& bands,
                     const Look& look) {
  std::vector<std::string> parts;
  for (std::size_t v = 0; v < variants.size(); ++v) {
    const study::VariantAnswer& answer = comparison.variants[v];
    if (!answer.culprit) {
      parts.push_back(letter(v) + " nothing");
      continue;
    }
    std::string part = fmt::format("{} {} ({}", letter(v), the(variants[v].line.elements[*answer.culprit]),
                                   vacuum(look, answer.culprit_share));
    if (v < bands.worst.size() && *answer.culprit < bands.worst[v].size())
      part += fmt::format(", {} sure", chance(bands.worst[v][*answer.culprit]));
    parts.push_back(part + ')');
  }
  return paragraph(fmt::format("Costs the tip most: {}.", fmt::join(parts, "; ")));
}

bool worth_a_row(const study::CompareBands& bands, std::size_t r) {
  return std::any_of(bands.values[r].begin(), bands.values[r].end(), [](const auto& of) {
    return std::any_of(of.begin(), of.end(), [](double v) { return !std::isnan(v); });
  });
}

std::string how_sure(const Comparison& comparison, const study::CompareBands& bands, const Look& look) {
  std::string out = '\n' + look.style.bold("How sure") + '\n';
  out += paragraph(fmt::format(
      "The files are not sure of {}. Of {} lines drawn from that for each variant, what they name alike drawn alike, "
      "nine in ten lie within:",
      counted(bands.inputs.size(), "value"), bands.samples));
  Table table({{"", "", true}, {""}, {"median (nine in ten)"}, {"is best"}});
  for (std::size_t r = 0; r < bands.drawn.size(); ++r) {
    if (!worth_a_row(bands, r)) continue;
    const Result& result = study::results()[bands.drawn[r]];
    for (std::size_t v = 0; v < bands.values[r].size(); ++v) {
      const auto& of = bands.values[r][v];
      const auto best = bands.best(r, v);
      const bool any = std::any_of(of.begin(), of.end(), [](double x) { return !std::isnan(x); });
      table.add({v == 0 ? std::string(result.words) : "", letter(v),
                 any ? shown(result.quality, study::band_of(of), of, look) : "-",
                 result.ranks && best ? chance(*best) : "-"});
    }
  }
  out += table.text(look.style);
  if (bands.failed > 0)
    out += paragraph(fmt::format("{} of the {} draws had a line that could not be solved; it is left out.",
                                 bands.failed, bands.samples));
  const auto most = std::max_element(bands.influence.begin(), bands.influence.end(),
                                     [](const auto& a, const auto& b) { return a.first < b.first; });
  if (most == bands.influence.end()) return out;
  const auto judged = std::find_if(comparison.judgements.begin(), comparison.judgements.end(), [&](const auto& j) {
    return !j.alike && std::find(bands.drawn.begin(), bands.drawn.end(), j.result) != bands.drawn.end();
  });
  if (most->total <= 0.0 || judged == comparison.judgements.end())
    return out + paragraph("None of what is unsure changes the difference.");
  const line::Uncertain& input = bands.inputs[static_cast<std::size_t>(most - bands.influence.begin())];
  return out +
         paragraph(fmt::format(
             "Measure next: {}, {} .. {}. Knowing it would take away {} of the doubt about the difference "
             "between {} and {} in \"{}\".",
             clean(input.path), units::show_fitting(input.quantity.low, input.dimension, 3),
             units::show_fitting(input.quantity.high, input.dimension, 3), chance(std::clamp(most->first, 0.0, 0.999)),
             letter(judged->best), letter(judged->next), study::results()[judged->result].words));
}

}  // namespace

std::string compare_text(std::span<const Variant> variants, const Comparison& comparison,
                         const study::CompareBands& bands, const Look& look) {
  std::string out = legend(variants, look) + '\n' + compare_verdict(variants, comparison, bands, look) + '\n';
  out += differences_text(variants, comparison, look) + '\n';
  for (std::size_t begin = 0; begin < variants.size(); begin += block)
    out += results_table(comparison, begin, std::min(begin + block, variants.size()), look) + '\n';
  out += culprits(variants, comparison, bands, look);
  const bool part = std::any_of(variants.begin(), variants.end(), [](const auto& v) { return v.line.part; });
  const bool several = std::any_of(variants.begin(), variants.end(),
                                   [](const auto& v) { return line::all_of(v.line, line::Kind::nozzle).size() > 1; });
  std::string how = "\"-\": its file does not ask for that.";
  how +=
      fmt::format(" Common vacuum: {}, 95 % of the least that any settles at.", vacuum(look, comparison.common_vacuum));
  if (several) how += " Of several nozzles the weakest or slowest.";
  const bool picks = std::any_of(variants.begin(), variants.end(),
                                 [](const auto& v) { return v.line.part && v.line.sensor && v.line.cycle; });
  if (picks) how += " Sensor, safe after: from touch, all at rest before it; how it is in the [cycle], sense tells.";
  if (std::any_of(variants.begin(), variants.end(), [](const auto& v) { return v.line.part && v.line.sensor; }))
    how += " Sensor, deviations: from held or missed to the threshold, in standard deviations of how readings scatter.";
  const bool switches = std::any_of(variants.begin(), variants.end(),
                                    [](const auto& v) { return v.line.sensor && v.line.sensor->ready_made; });
  if (switches) how += " Sensor, set best: with each switch set where its line errs least.";
  if (part) how += " To spare: at the wide end of the gap's tolerance, as hold has it.";
  if (std::any_of(comparison.variants.begin(), comparison.variants.end(), [](const auto& v) { return v.cycle_works; }))
    how += " Wait to lift: from touch to the safe lift.";
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  if (part)
    out += paragraph(
        "Vacuum lets go when the power fails: where a dropped part can hurt someone, vacuum alone must not hold it.");
  return bands.samples == 0 ? out : out + how_sure(comparison, bands, look);
}

}  // namespace airtally::report
