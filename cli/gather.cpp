#include "gather.hpp"

#include <algorithm>

#include "common.hpp"
#include "errors.hpp"
#include "grid.hpp"
#include "hunt/look_up.hpp"
#include "read/log_file.hpp"
#include "read/readings_file.hpp"

namespace airtally::cli {
namespace {

using report::page::Findings;
using solve::TipState;

/// Solves of a small line that bands may cost unasked: about a second on two threads.
constexpr double unasked = 500'000.0;
constexpr std::size_t usual_samples = 256;

std::optional<report::page::Banded> banded(const line::Line& line, study::Question question,
                                           const GatherOptions& asked) {
  const line::Line drawn = study::drawn_from(question, line);
  if (asked.no_bands || line::uncertain(drawn).empty()) return std::nullopt;
  study::SampleOptions options;
  options.influence = false;
  options.samples = asked.samples.empty() ? usual_samples : whole_number(asked.samples, "--samples", 16);
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

/// Where a log was recorded: as asked, else at the line's only gauge.
std::size_t log_place(const line::Line& line, const GatherOptions& options) {
  if (!options.log_at.empty()) return element_named(line, options.log_at, "--at");
  std::vector<std::size_t> gauges;
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].gauge) gauges.push_back(i);
  if (gauges.size() == 1) return gauges.front();
  throw BadInput(Position{}, "--log needs --at: the line has not one gauge but several or none.");
}

hunt::Hunt hunted(const line::Line& line, const std::vector<std::string>& files) {
  std::vector<line::Notes> notes;
  notes.reserve(files.size());
  for (const std::string& file : files) notes.push_back(read::read_readings(file));
  return hunt::hunt(line, hunt::look_up(line, notes));
}

}  // namespace

Findings gather(const line::Line& line, const GatherOptions& options) {
  Findings found;
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
    found.log = hunt::fit_rise(line, found.tips, log_place(line, options), log, rising.thermal, found.rise.segments);
  }
  std::vector<std::vector<TipState>> asked;
  for (const solve::SteadyAnswer& answer : found.steady) {
    asked.emplace_back();
    for (const solve::Tip& tip : answer.tips) asked.back().push_back(tip.state);
  }
  found.pump = study::pump_against_line(line, asked);
  if (line.cycle) found.cycle = study::cycle(line);
  if (line.part) found.hold = study::hold(line);
  if (line.sensor && line.part) found.sense = study::sense(line);
  if (!options.readings.empty()) {
    found.hunt = hunted(line, options.readings);
    for (const std::string& file : options.readings)
      found.readings_files += (found.readings_files.empty() ? "" : ", ") + file;
  }
  return found;
}

}  // namespace airtally::cli
