#include "report/bands_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/plain_number.hpp"
#include "report/table.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::Measure;
using study::Quality;

Scale mass_scale(double largest) {
  const std::string_view symbol = largest >= 1.0 ? "kg" : largest >= 1e-3 ? "g" : "mg";
  const units::Unit& unit = *units::find_unit(symbol, units::Dimension::mass);
  const double size = units::from_si(std::abs(largest), unit);
  const int digits = size > 0.0 ? 2 - static_cast<int>(std::floor(std::log10(size))) : 0;
  return {unit, std::clamp(digits, 0, 2)};
}

/// Not every measure is worth a line: of the chances only those that occur, of the shares only those that count.
bool worth_a_line(const study::Question& question, const study::Bands& bands, std::size_t m) {
  const Measure& measure = question.measures[m];
  if (!measure.shown) return false;
  if (measure.key == "worst_probability" || measure.key == "culprit_probability") return mean_of(bands.values[m]) > 0.0;
  if (measure.key != "fair_share_pa") return true;
  double largest = 0.0;
  for (std::size_t k = 0; k < question.measures.size(); ++k)
    if (question.measures[k].key == measure.key) largest = std::max(largest, bands.bands[k].high);
  return std::max(std::abs(bands.bands[m].low), bands.bands[m].high) > 0.05 * largest;
}

/// What the doubt of one measure comes from, the most first; empty where one input is all of it.
std::string sources(const study::Question& question, const study::Bands& bands, std::size_t m, const Look& look) {
  constexpr std::size_t most_rows = 6;
  constexpr double least = 0.005;
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < bands.inputs.size(); ++i)
    if (bands.influence[m][i].total >= least) order.push_back(i);
  if (order.size() < 2) return "";
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return bands.influence[m][a].first > bands.influence[m][b].first;
  });
  Table table({{"what makes it unsure", "", true}, {"alone"}, {"with others"}});
  for (std::size_t k = 0; k < order.size() && k < most_rows; ++k) {
    const study::Influence& influence = bands.influence[m][order[k]];
    table.add({clean(bands.inputs[order[k]].path), chance(std::clamp(influence.first, 0.0, 1.0)),
               chance(std::clamp(influence.total, 0.0, 1.0))});
  }
  std::string out = table.text(look.style);
  const std::string legend = fmt::format(
      "alone: part of the doubt about \"{}\", as its variance counts it, that knowing it would take away. with others: "
      "that would stay if all else were known.",
      clean(question.measures[m].words));
  for (const std::string& row : wrap(legend, 80)) out += look.style.dim(row) + '\n';
  return out;
}

std::string input_text(const line::Uncertain& input) {
  const auto text = [&](double si) { return units::show_fitting(si, input.dimension, 3); };
  return fmt::format("{}, {} .. {}", clean(input.path), text(input.quantity.low), text(input.quantity.high));
}

Scale length_scale(double largest) {
  const units::Unit& unit = *units::find_unit(largest >= 1e-3 ? "mm" : "um", units::Dimension::length);
  return {unit, largest < 1e-5 ? 2 : 1};
}

}  // namespace

Scale scale_of(Quality quality, double largest, const Look& look) {
  switch (quality) {
    case Quality::vacuum:
      return vacuum_scale(look, largest);
    case Quality::flow:
      return flow_scale(largest);
    case Quality::leak:
      return leak_scale(largest);
    case Quality::time:
      return time_scale(largest);
    case Quality::current:
      return current_scale(largest);
    case Quality::length:
      return length_scale(largest);
    default:
      return mass_scale(largest);
  }
}

double mean_of(const std::vector<double>& values) {
  double sum = 0.0, count = 0.0;
  for (const double v : values)
    if (std::isfinite(v)) sum += v, count += 1.0;
  return count > 0.0 ? sum / count : 0.0;
}

std::string chance(double probability) {
  if (probability > 0.0 && probability < 0.01) return "under 1 %";
  if (probability < 1.0 && probability > 0.99) return "over 99 %";
  return fmt::format("{:.0f} %", 100.0 * probability);
}

std::string shown(Quality quality, double value, const Look& look) {
  if (!std::isfinite(value)) return "never";
  if (quality == Quality::chance) return chance(value);
  if (quality == Quality::number) return plain_number(value, 3);
  return scale_of(quality, std::abs(value), look).text(value);
}

std::string shown(Quality quality, const study::Band& band, const Look& look) {
  if (quality == Quality::number)
    return fmt::format("{} ({} .. {})", plain_number(band.median, 3), plain_number(band.low, 3),
                       plain_number(band.high, 3));
  double largest = 0.0;
  for (const double end : {band.low, band.median, band.high})
    if (std::isfinite(end)) largest = std::max(largest, std::abs(end));
  const Scale scale = scale_of(quality, largest, look);
  const auto number = [&](double end) { return std::isfinite(end) ? scale.number(end) : std::string("never"); };
  return fmt::format("{} ({} .. {})", std::isfinite(band.median) ? scale.text(band.median) : "never", number(band.low),
                     number(band.high));
}

std::string shown(Quality quality, const study::Band& band, const std::vector<double>& values, const Look& look) {
  double numbers = 0.0, never = 0.0;
  for (const double v : values) {
    if (std::isfinite(v)) numbers += 1.0;
    if (std::isinf(v)) never += 1.0;
  }
  if (numbers == 0.0) return "never";
  const std::string text = shown(quality, band, look);
  return never > 0.0 ? text + ", never in " + chance(never / (numbers + never)) : text;
}

namespace {

/// What is shown of a measure.
std::string measured(const study::Question& question, const study::Bands& bands, std::size_t m, const Look& look) {
  const Measure& measure = question.measures[m];
  return measure.quality == Quality::chance ? chance(mean_of(bands.values[m]))
                                            : shown(measure.quality, bands.bands[m], bands.values[m], look);
}

/// The same of one element or of several of which all that is shown is alike.
struct BandRow {
  std::vector<std::size_t> measures;
  std::string text;
};

/// "has" of "has, cup 1"; all of it where it does not end in its element's name.
std::string without_element(const Measure& measure) {
  const std::string end = ", " + measure.element;
  const bool named = !measure.element.empty() && measure.words.ends_with(end);
  return named ? measure.words.substr(0, measure.words.size() - end.size()) : measure.words;
}

std::vector<BandRow> band_rows(const study::Question& question, const study::Bands& bands, const Look& look) {
  std::vector<BandRow> rows;
  for (std::size_t m = 0; m < question.measures.size(); ++m) {
    if (!worth_a_line(question, bands, m)) continue;
    const Measure& measure = question.measures[m];
    const std::string text = measured(question, bands, m, look);
    const auto like = std::find_if(rows.begin(), rows.end(), [&](const BandRow& row) {
      const Measure& first = question.measures[row.measures.front()];
      return first.key == measure.key && first.time == measure.time && row.text == text &&
             without_element(first) != first.words && without_element(first) == without_element(measure);
    });
    if (like == rows.end())
      rows.push_back({{m}, text});
    else
      like->measures.push_back(m);
  }
  return rows;
}

/// "has, cup 1", "has, cup 1 and cup 3", "has, cup 1 to cup 4", or "has, each of 4".
std::string row_words(const study::Question& question, const BandRow& row) {
  const Measure& first = question.measures[row.measures.front()];
  if (row.measures.size() == 1) return clean(first.words);
  std::vector<std::size_t> all;
  for (std::size_t m = 0; m < question.measures.size(); ++m)
    if (question.measures[m].key == first.key && without_element(question.measures[m]) == without_element(first) &&
        !question.measures[m].element.empty())
      all.push_back(m);
  const std::string what = clean(without_element(first)) + ", ";
  if (all.size() == row.measures.size()) return what + "each of " + std::to_string(all.size());
  const auto begin = std::find(all.begin(), all.end(), row.measures.front());
  const bool in_a_row = static_cast<std::size_t>(all.end() - begin) >= row.measures.size() &&
                        std::equal(row.measures.begin(), row.measures.end(), begin);
  if (row.measures.size() > 2 && in_a_row)
    return what + clean(first.element) + " to " + clean(question.measures[row.measures.back()].element);
  std::vector<std::string> names;
  for (const std::size_t m : row.measures) names.push_back(clean(question.measures[m].element));
  return what + listed(names);
}

}  // namespace

std::string bands_text(const study::Question& question, const study::Bands& bands, const Look& look) {
  std::string out = '\n' + look.style.bold("How sure") + '\n';
  out += paragraph(fmt::format("The file is not sure of {}. Of {} lines drawn from that, nine in ten lie within:",
                               counted(bands.inputs.size(), "value"), bands.samples));
  Table table({{"", "", true}, {"median (nine in ten)"}});
  for (const BandRow& row : band_rows(question, bands, look)) table.add({row_words(question, row), row.text});
  out += table.text(look.style);
  if (const auto matter = study::what_matters(question, bands)) {
    const line::Uncertain& input = bands.inputs.at(matter->input);
    const double part = std::clamp(bands.influence[matter->measure][matter->input].first, 0.0, 0.999);
    const std::string about = question.measures[matter->measure].words;
    out += paragraph(bands.inputs.size() == 1
                         ? fmt::format("Measure next: {}. Nothing else is unsure.", input_text(input))
                         : fmt::format("Measure next: {}. Knowing it would take away {} of the doubt about \"{}\".",
                                       input_text(input), chance(part), clean(about)));
    const std::string why = sources(question, bands, matter->measure, look);
    if (!why.empty()) out += '\n' + why;
  } else {
    out += paragraph("None of what is unsure changes this answer.");
  }
  if (bands.failed > 0)
    out +=
        paragraph(fmt::format("{} of the {} lines could not be solved and are left out.", bands.failed, bands.samples));
  return out;
}

}  // namespace airtally::report
