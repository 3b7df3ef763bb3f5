#include "gather.hpp"

#include <algorithm>
#include <cmath>

#include "common.hpp"
#include "errors.hpp"
#include "hunt/logs/look_up.hpp"
#include "read/log_file.hpp"
#include "read/others_file.hpp"
#include "read/readings_file.hpp"
#include "read/stock.hpp"
#include "read/twist_file.hpp"
#include "studies.hpp"
#include "values.hpp"
#include "whose_readings.hpp"

namespace airtally::cli {
namespace {

using report::page::Findings;
using solve::TipState;

/// Solves of a small line that bands may cost unasked: about a second on two threads.
constexpr double unasked = 500'000.0;
constexpr std::size_t usual_samples = 256;
constexpr std::size_t curve_samples = 128;  ///< for a curve that is looked at and never read to a digit

std::optional<report::page::Banded> banded(const line::Line& line, study::Question question, const GatherOptions& asked,
                                           std::size_t usual = usual_samples) {
  const line::Line drawn = study::drawn_from(question, line);
  if (asked.no_bands || line::uncertain(drawn).empty()) return std::nullopt;
  study::SampleOptions options;
  options.influence = false;
  options.samples = asked.samples.empty() ? usual : whole_number(asked.samples, "--samples", 16, most_samples);
  if (asked.samples.empty() && static_cast<double>(options.samples) * question.cost > unasked) return std::nullopt;
  report::page::Banded result;
  result.bands = study::bands(drawn, question.measures.size(), question.answer, options);
  result.question = std::move(question);
  return result;
}

/// The usual state first, then the others that the line can have.
std::vector<solve::SteadyAnswer> states(const line::Line& line, const std::vector<TipState>& usual) {
  std::vector<solve::SteadyAnswer> all{solve::steady(line, usual)};
  for (const TipState state : {TipState::open, TipState::part, TipState::blocked}) {
    if (state == TipState::part && !line.part) continue;
    const std::vector<TipState> tips = solve::all_tips(line, state);
    if (tips != usual) all.push_back(solve::steady(line, tips));
  }
  return all;
}

/// The tips, the gauges and the sources.
std::vector<std::size_t> places(const line::Line& line) {
  std::vector<std::size_t> all = line::all_of(line, line::Kind::nozzle);
  constexpr std::size_t most_gauges = 3;
  std::size_t gauges = 0;
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].gauge && line.elements[i].kind != line::Kind::nozzle && gauges++ < most_gauges)
      all.push_back(i);
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line::is_source(line.elements[i].kind)) all.push_back(i);
  return all;
}

hunt::Hunt hunted(const line::Line& line, const std::vector<std::string>& files) {
  std::vector<line::Notes> notes;
  std::vector<std::string> remarks;
  notes.reserve(files.size());
  for (const std::string& file : files) {
    notes.push_back(read::read_readings(file));
    // The page goes where standard error does not.
    if (auto sentence = tell_of_another_line(notes.back(), line.file)) remarks.push_back(std::move(*sentence));
    read::read_logs(notes.back(), line.site);
  }
  hunt::Readings readings = hunt::look_up(line, notes);
  readings.remarks.insert(readings.remarks.begin(), remarks.begin(), remarks.end());
  return hunt::hunt(line, readings);
}

/// Of other pumps' curves those whose free flow is nearest to the line's own, so that the picture stays one of this
/// line: a few, and none of another size altogether.
void keep_near(study::PumpAgainstLine& against) {
  constexpr std::size_t most = 3;
  constexpr double widest = 3.0;  // times the line's own, or a part of it
  const auto apart = [own = against.pump.curve.front().flow](const study::SourceCurve& spare) {
    return std::abs(std::log(spare.curve.front().flow / own));
  };
  // The catalogue's entry of the line's own pump would only cover it.
  const auto same = [own = against.pump.curve](const study::SourceCurve& spare) {
    constexpr double alike = 1e-6;
    const auto near = [](double a, double b) { return std::abs(a - b) <= alike * std::abs(b); };
    return near(spare.curve.front().flow, own.front().flow) && near(spare.curve.back().vacuum, own.back().vacuum);
  };
  std::erase_if(against.spares, [&](const auto& spare) { return !(apart(spare) <= std::log(widest)) || same(spare); });
  std::stable_sort(against.spares.begin(), against.spares.end(),
                   [&](const auto& a, const auto& b) { return apart(a) < apart(b); });
  if (against.spares.size() > most) against.spares.resize(most);
}

/// What only some files ask for: joint or twisted tube; other parts, nozzles and pumps.
void ask_what_else(Findings& found, const CommonOptions& common, const GatherOptions& options,
                   const std::vector<line::Element>& pumps) {
  const line::Line& line = found.line;
  const std::vector<read::Change> changes = changes_of(common);
  const read::LineText& file = common.texts->of(common.line);
  if (const auto twist = read::read_twist(file, {}, changes); twist && line.part)
    found.joint =
        study::joint(line, *twist, {read::read_seals(catalogues(common, options.from), line.site.pressure), true});
  const read::Others others = read::read_others(file, line.site.pressure, {}, changes);
  if (!line.part || (others.parts.empty() && others.nozzles.empty())) return;
  study::PumpsOptions asked;
  asked.stock = pumps;
  asked.parts = others.parts;
  asked.nozzles = others.nozzles;
  found.choice = study::pumps(line, asked);
}

}  // namespace

Findings gather(const CommonOptions& common, const GatherOptions& options) {
  Findings found;
  const line::Line line = read(common);
  found.line = line;
  found.tips = solve::usual_tips(line);
  found.steady = states(line, found.tips);
  found.warnings = study::warnings(line);
  found.ranking = study::rank(line, found.tips);
  found.ranking_bands = banded(line, study::rank_question(line, found.tips, {}), options);
  found.strip = study::strip(line, found.tips);
  study::RiseOptions rising;
  rising.at = places(line);
  found.rise = study::rise(line, found.tips, rising);
  found.rise_bands = banded(line, study::rise_question(line, found.tips, rising.thermal), options);
  if (!options.log.empty()) {
    const line::Log log = read::read_log(options.log, line.site.pressure);
    const std::vector<std::string> at(options.log_at.empty() ? 0 : 1, options.log_at);
    found.log = hunt::fit_rise(line, found.tips, log_place(line, at), log, rising.thermal, found.rise.segments);
  }
  std::vector<std::vector<TipState>> asked;
  for (const solve::SteadyAnswer& answer : found.steady) {
    asked.emplace_back();
    for (const solve::Tip& tip : answer.tips) asked.back().push_back(tip.state);
  }
  const std::vector<line::Element> pumps =
      read::read_stock(catalogues(common, options.from), {line::Kind::pump, line::Kind::ejector}, line.site.pressure);
  found.pump = study::pump_against_line(line, asked, pumps);
  keep_near(*found.pump);
  if (line.cycle) {
    found.cycle = study::cycle(line);
    found.cycle_bands = banded(line, study::cycle_curve_question(line), options, curve_samples);
  }
  if (line.part) {
    found.hold = study::hold(line);
    found.outages = study::outages(line, *found.hold);
  }
  if (line.sensor && line.part) {
    found.sense = study::sense(line);
    study::tell_builds(line, *found.sense);
  }
  ask_what_else(found, common, options, pumps);
  if (!options.readings.empty()) {
    found.hunt = hunted(line, options.readings);
    found.readings_files = options.readings;
  }
  return found;
}

}  // namespace airtally::cli
