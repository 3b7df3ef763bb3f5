#include "study/sense.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/sense_text.hpp"
#include "studies.hpp"

namespace airtally::cli {
namespace {

struct SenseCommandOptions {
  CommonOptions common;
  std::string nozzle;
  StudyOptions studies;
};

Answer run_sense(const SenseCommandOptions& options) {
  const CommonOptions& common = options.common;
  const report::Look how = look(common);
  const auto nozzle = [&](const line::Line& line) {
    std::optional<std::size_t> asked;
    if (!options.nozzle.empty()) asked = nozzle_named(line, options.nozzle, "--nozzle");
    return asked;
  };
  const auto answer = [&](const line::Line& line) -> Answer {
    study::Sense sense = study::sense(line, nozzle(line));
    study::tell_builds(line, sense);
    reporting(common);
    return {common.json ? report::sense_json(line, sense) : report::sense_text(line, sense, how),
            sense.works() ? 0 : 1};
  };
  const auto question = [&](const line::Line& line) { return study::sense_question(line, nozzle(line)); };
  return answer_with_studies(common, options.studies, {answer, question, {}, study::sense_cost});
}

}  // namespace

Command add_sense(CLI::App& app) {
  CLI::App* command = app.add_subcommand("sense", "Held or missed: will the pressure sensor tell?");
  auto options = std::make_shared<SenseCommandOptions>();
  add_common(*command, options->common, false);
  command->add_option("--nozzle", options->nozzle, "Nozzle whose part is to be told (default: the hardest)")
      ->type_name("NAME");
  add_studies(*command, options->studies);
  command->footer(
      "Ends with exit code 1 when the sensor does not tell, be it at rest or in the\npick of the file's "
      "[cycle].\nExample: airtally sense lines/jewel-setter.toml");
  return {command, [options] { return counted(options->common, [&] { return run_sense(*options); }); }};
}

}  // namespace airtally::cli
