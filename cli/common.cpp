#include "common.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdlib>
#include <optional>

#include "read/line_file.hpp"
#include "report/words.hpp"
#include "solve/answer.hpp"
#include "units/suggest.hpp"

namespace airtally::cli {
namespace {

[[noreturn]] void refuse(const std::string& sentence) { throw BadInput(Position{}, sentence); }

std::string did_you_mean(const std::string& given, const std::vector<std::string_view>& known) {
  const auto near = units::nearest(given, known);
  return near ? fmt::format(" Did you mean '{}'?", *near) : std::string();
}

std::string among(const std::vector<std::string_view>& known) { return fmt::format("{}", fmt::join(known, ", ")); }

const std::vector<std::string_view> tip_words{"open", "part", "blocked"};

std::optional<solve::TipState> state_of(const std::string& text) {
  for (const auto state : {solve::TipState::open, solve::TipState::part, solve::TipState::blocked})
    if (report::word(state) == text) return state;
  return std::nullopt;
}

/// Units that a vacuum gauge may have.
std::vector<std::string_view> vacuum_units() {
  std::vector<std::string_view> all;
  for (const units::Unit& unit : units::units_of(units::Dimension::pressure))
    if (unit.symbol != "MPa" && unit.symbol != "GPa") all.push_back(unit.symbol);
  return all;
}

bool colour_wanted() {
  if (std::getenv("NO_COLOR") != nullptr || isatty(STDOUT_FILENO) == 0) return false;
  const char* terminal = std::getenv("TERM");
  return terminal != nullptr && std::string_view(terminal) != "dumb";
}

}  // namespace

void add_common(CLI::App& command, CommonOptions& options, bool with_tips) {
  command.add_option("LINE", options.line, "The line file")->required()->type_name("");
  add_dress(command, options);
  if (!with_tips) return;
  command.add_option("--tip", options.tips, "open, part or blocked; \"NOZZLE=open\" for one alone")
      ->type_name("STATE")
      ->take_all()
      ->allow_extra_args(false);
}

void add_dress(CLI::App& command, CommonOptions& options) {
  command.add_option("--set", options.sets, "Another value than the file has: \"nozzle.bore=0.8 mm\"")
      ->type_name("NAME=VALUE")
      ->take_all()
      ->allow_extra_args(false);
  add_look(command, options);
}

void add_look(CLI::App& command, CommonOptions& options) {
  command.add_flag("--json", options.json, "Answer in JSON: SI, the unit in each key")->disable_flag_override();
  command.add_option("--units", options.units, "Unit of vacuums: kPa (default), mbar, inHg, psi ...")
      ->type_name("UNIT");
  command.add_flag("--ascii", options.ascii, "Draw with plain ASCII signs")->disable_flag_override();
  command.add_flag("--stats", options.show_stats, "Also what it took: solves, steps, time")->disable_flag_override();
}

void add_thermal(CLI::App& command, std::string& thermal) {
  command.add_option("--thermal", thermal, "Air: isothermal, adiabatic, or wall (default)")->type_name("HOW");
}

solve::Thermal thermal_of(const std::string& word) {
  if (word == "isothermal") return solve::Thermal::isothermal;
  if (word == "adiabatic") return solve::Thermal::adiabatic;
  if (word == "wall") return solve::Thermal::wall;
  refuse("--thermal: '" + word + "' is not known; say isothermal, adiabatic or wall.");
}

std::vector<read::Change> changes_of(const CommonOptions& options) {
  std::vector<read::Change> changes;
  for (const std::string& text : options.sets) changes.push_back(read::change_of(text));
  return changes;
}

line::Line read(const CommonOptions& options) { return read(options, options.line); }

line::Line read(const CommonOptions& options, const std::string& file) {
  return read(options, file, changes_of(options));
}

line::Line read(const CommonOptions& options, const std::string& file, const std::vector<read::Change>& changes) {
  options.stats->enter(Phase::read);
  line::Line line = read::read_line(options.texts->of(file), {}, changes);
  options.stats->enter(Phase::study);
  return line;
}

void reporting(const CommonOptions& options) { options.stats->enter(Phase::report); }

report::Look look(const CommonOptions& options) {
  report::Look result;
  const std::vector<std::string_view> known = vacuum_units();
  const units::Unit* unit = units::find_unit(options.units, units::Dimension::pressure);
  if (unit == nullptr || std::find(known.begin(), known.end(), unit->symbol) == known.end())
    refuse(fmt::format("--units: '{}' is no unit for a vacuum; choose one of {}.{}", options.units, among(known),
                       did_you_mean(options.units, known)));
  result.vacuum = unit;
  result.style.ascii = options.ascii;
  result.style.colour = colour_wanted();
  result.changes = options.sets;
  return result;
}

std::vector<solve::TipState> tip_states(const CommonOptions& options, const line::Line& line) {
  return tip_states(options, line, solve::usual_tips(line));
}

std::vector<solve::TipState> tip_states(const CommonOptions& options, const line::Line& line,
                                        std::vector<solve::TipState> tips) {
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  const auto set = [&](std::size_t k, solve::TipState state) {
    if (state == solve::TipState::part && !line.part)
      refuse(fmt::format(
          "--tip: '{}' has no [part], so no tip can have one on; say open or blocked, or describe the part.",
          line.file));
    tips.at(k) = state;
  };
  for (const std::string& given : options.tips) {
    const std::size_t equals = given.rfind('=');
    const std::string word = given.substr(equals == std::string::npos ? 0 : equals + 1);
    const auto state = state_of(word);
    if (!state)
      refuse(fmt::format(
          "--tip: '{}' is no state of a tip; say open, part or blocked, or \"NOZZLE=open\" for one alone.{}", word,
          did_you_mean(word, tip_words)));
    if (equals == std::string::npos) {
      for (std::size_t k = 0; k < nozzles.size(); ++k) set(k, *state);
      continue;
    }
    set(nozzle_named(line, given.substr(0, equals), "--tip"), *state);
  }
  return tips;
}

std::size_t nozzle_named(const line::Line& line, const std::string& name, const std::string& option) {
  std::vector<std::string_view> names;
  for (const std::size_t n : line::all_of(line, line::Kind::nozzle)) names.push_back(line.elements[n].name);
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end())
    refuse(fmt::format("{}: the line has no nozzle '{}'; it has {}.{}", option, name, among(names),
                       did_you_mean(name, names)));
  return static_cast<std::size_t>(found - names.begin());
}

std::size_t element_named(const line::Line& line, const std::string& name, const std::string& option) {
  if (const auto found = line::find(line, name)) return *found;
  std::vector<std::string_view> names;
  names.reserve(line.elements.size());
  for (const line::Element& element : line.elements) names.push_back(element.name);
  refuse(fmt::format("{}: the line has no element '{}'; it has {}.{}", option, name, among(names),
                     did_you_mean(name, names)));
}

std::size_t log_place(const line::Line& line, const std::vector<std::string>& at) {
  if (at.size() > 1) throw BadInput(Position{}, "--log goes with one --at: the place where it was recorded.");
  if (at.size() == 1) return element_named(line, at.front(), "--at");
  std::vector<std::size_t> gauges;
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].gauge) gauges.push_back(i);
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  if (gauges.size() == 1) return gauges.front();
  if (gauges.empty() && nozzles.size() == 1) return nozzles.front();
  throw BadInput(Position{}, fmt::format("--log needs --at, the place where it was recorded: the line has {} gauges.",
                                         gauges.empty() ? "no" : "several"));
}

}  // namespace airtally::cli
