#include "study/strip.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "hunt/logs/look_up.hpp"
#include "hunt/readings/beside.hpp"
#include "read/readings_file.hpp"
#include "report/json.hpp"
#include "report/strip_readings.hpp"
#include "report/text.hpp"
#include "studies.hpp"
#include "whose_readings.hpp"

namespace airtally::cli {
namespace {

struct StripCommandOptions {
  CommonOptions common;
  bool sheet = false;
  std::string readings;
  StudyOptions studies;
};

Answer run_strip(const StripCommandOptions& options) {
  const CommonOptions& common = options.common;
  const report::Look how = look(common);
  StudyOptions studies = options.studies;
  if (options.sheet) {
    if (!options.readings.empty())
      throw BadInput(Position{}, "--sheet is a blank form and --readings are filled in; choose one.");
    if (common.json) throw BadInput(Position{}, "--sheet is for paper and --json for programs; choose one of them.");
    if (!studies.sweeps.empty()) throw BadInput(Position{}, "--sheet is of one line and --sweep of many; choose one.");
    // A sheet has blanks for readings; bands stand below it when asked for.
    studies.no_bands = !studies.bands;
  }
  if (!options.readings.empty() && !studies.sweeps.empty())
    throw BadInput(Position{}, "--readings are of one line and --sweep of many; choose one.");
  const auto answer = [&](const line::Line& line) -> Answer {
    const study::Strip strip = study::strip(line, tip_states(common, line));
    reporting(common);
    if (!options.readings.empty()) {
      line::Notes notes = read::read_readings(options.readings);
      tell_of_another_line(notes, line.file);
      read::read_logs(notes, line.site);
      const hunt::BesideAll all = hunt::beside(line, strip, hunt::look_up(line, {notes}));
      return {common.json ? report::strip_readings_json(line, strip, all)
                          : report::strip_readings_text(line, strip, all, how, options.readings)};
    }
    if (common.json) return {report::strip_json(line, strip)};
    return {options.sheet ? report::sheet_text(line, strip, how) : report::strip_text(line, strip, how)};
  };
  const auto question = [&](const line::Line& line) { return study::strip_question(line, tip_states(common, line)); };
  return answer_with_studies(common, studies, {answer, question});
}

}  // namespace

Command add_strip(CLI::App& app) {
  CLI::App* command = app.add_subcommand("strip", "How to prove it? Readings of a removal test");
  auto options = std::make_shared<StripCommandOptions>();
  add_common(*command, options->common, true);
  command->add_flag("--sheet", options->sheet, "Print a bench sheet to fill in")->disable_flag_override();
  add_studies(*command, options->studies);
  command->add_option("--readings", options->readings, "Put these readings beside what is predicted")
      ->type_name("FILE");
  command->footer("Example: airtally strip lines/jewel-setter.toml --sheet");
  return {command, [options] { return counted(options->common, [&] { return run_strip(*options); }); }};
}

}  // namespace airtally::cli
