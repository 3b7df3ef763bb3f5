#pragma once
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "line/line.hpp"
#include "line_texts.hpp"
#include "read/line_file.hpp"
#include "report/look.hpp"
#include "solve/line_system.hpp"
#include "solve/network.hpp"
#include "stats.hpp"
#include "units/trimmed.hpp"

namespace CLI {
class App;
}

/// What several commands share.
namespace airtally::cli {

/// A text of its own without what is blank at its ends.
inline std::string trimmed_text(std::string_view text) { return std::string(units::trimmed(text)); }

/// What every command that reads a line understands.
struct CommonOptions {
  std::string line;               ///< the line file
  bool json = false;              ///< JSON instead of text
  bool ascii = false;             ///< no signs beyond ASCII
  std::string units = "kPa";      ///< unit of every vacuum in text
  std::vector<std::string> tips;  ///< "open", or "nozzle 2=open"
  std::vector<std::string> sets;  ///< "nozzle.bore=0.8 mm"
  bool show_stats = false;        ///< also what the answer took
  std::shared_ptr<Stats> stats = std::make_shared<Stats>();
  std::shared_ptr<LineTexts> texts = std::make_shared<LineTexts>();
};

/// Adds LINE, --set, --json, --units, --ascii and --stats; `--tip` as well where `with_tips`.
void add_common(CLI::App& command, CommonOptions& options, bool with_tips);

/// Adds --thermal, which `thermal_of` reads.
void add_thermal(CLI::App& command, std::string& thermal);
/// "isothermal", "adiabatic" or "wall". Throws BadInput.
solve::Thermal thermal_of(const std::string& word);

/// Adds --json, --units, --ascii and --stats: what every answer has.
void add_look(CLI::App& command, CommonOptions& options);
/// Adds --set and those: what commands have that name their files otherwise.
void add_dress(CLI::App& command, CommonOptions& options);

/// What --set changes. Throws BadInput.
std::vector<read::Change> changes_of(const CommonOptions& options);

/// The line of the options, with what `--set` changes. Throws BadInput.
line::Line read(const CommonOptions& options);
/// The same of a file that a command names otherwise.
line::Line read(const CommonOptions& options, const std::string& file);

/// That file with these changes made, its work counted where `--stats` asks for it. Throws BadInput.
line::Line read(const CommonOptions& options, const std::string& file, const std::vector<read::Change>& changes);
/// From now on the answer is written down, for `--stats`.
void reporting(const CommonOptions& options);

/// How to show the answer: the unit asked for; colour on a terminal, never under NO_COLOR. Throws BadInput.
report::Look look(const CommonOptions& options);

/// One state per nozzle of the line: the usual one, changed by each `--tip` in turn. Throws BadInput.
std::vector<solve::TipState> tip_states(const CommonOptions& options, const line::Line& line);
/// The same from other states than the usual ones.
std::vector<solve::TipState> tip_states(const CommonOptions& options, const line::Line& line,
                                        std::vector<solve::TipState> tips);

/// The element that an option names. Throws BadInput, with what it may have meant.
std::size_t element_named(const line::Line& line, const std::string& name, const std::string& option);
/// Where a log was recorded: at the one element that `at` names, else at the line's only gauge, else, where it has
/// none, at its only nozzle. Throws BadInput where that leaves it open.
std::size_t log_place(const line::Line& line, const std::vector<std::string>& at);
/// The nozzle that an option names, as its index among the nozzles. Throws BadInput.
std::size_t nozzle_named(const line::Line& line, const std::string& name, const std::string& option);

}  // namespace airtally::cli
