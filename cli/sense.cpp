#include "study/sense.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/sense_text.hpp"

namespace airtally::cli {
namespace {

struct SenseCommandOptions {
  CommonOptions common;
  std::string nozzle;
};

Answer run_sense(const SenseCommandOptions& options) {
  const report::Look how = look(options.common);
  const line::Line line = read(options.common);
  std::optional<std::size_t> nozzle;
  if (!options.nozzle.empty()) nozzle = nozzle_named(line, options.nozzle, "--nozzle");
  const study::Sense sense = study::sense(line, nozzle);
  return {options.common.json ? report::sense_json(line, sense) : report::sense_text(line, sense, how),
          sense.tells ? 0 : 1};
}

}  // namespace

Command add_sense(CLI::App& app) {
  CLI::App* command = app.add_subcommand("sense", "Held or missed: will the pressure sensor tell?");
  auto options = std::make_shared<SenseCommandOptions>();
  add_common(*command, options->common, false);
  command->add_option("--nozzle", options->nozzle, "Nozzle whose part is to be told (default: the hardest)")
      ->type_name("NAME");
  command->footer(
      "Ends with exit code 1 when the sensor does not tell.\nExample: airtally sense lines/jewel-setter.toml");
  return {command, [options] { return run_sense(*options); }};
}

}  // namespace airtally::cli
