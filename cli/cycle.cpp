#include "study/cycle.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/cycle_text.hpp"
#include "studies.hpp"

namespace airtally::cli {
namespace {

struct CycleCommandOptions {
  CommonOptions common;
  std::string thermal = "wall";
  StudyOptions studies;
};

Answer run_cycle(const CycleCommandOptions& options) {
  const CommonOptions& common = options.common;
  const report::Look how = look(common);
  study::CycleOptions asked;
  asked.thermal = thermal_of(options.thermal);
  const auto answer = [&](const line::Line& line) -> Answer {
    const study::CycleAnswer found = study::cycle(line, asked);
    reporting(common);
    return {common.json ? report::cycle_json(line, found) : report::cycle_text(line, found, how),
            found.works() ? 0 : 1};
  };
  const auto question = [&](const line::Line& line) { return study::cycle_question(line, asked); };
  return answer_with_studies(common, options.studies, {answer, question});
}

}  // namespace

Command add_cycle(CLI::App& app) {
  CLI::App* command = app.add_subcommand("cycle", "When may it lift? One whole pick, from valve to release");
  auto options = std::make_shared<CycleCommandOptions>();
  add_common(*command, options->common, false);
  add_thermal(*command, options->thermal);
  add_studies(*command, options->studies);
  command->footer(
      "Ends with exit code 1 when a head never gets the vacuum it needs, or has too\n"
      "little of it when it lifts or travels, at the widest gap of the part too.\nExample: airtally cycle "
      "lines/jewel-setter.toml");
  return {command, [options] { return counted(options->common, [&] { return run_cycle(*options); }); }};
}

}  // namespace airtally::cli
