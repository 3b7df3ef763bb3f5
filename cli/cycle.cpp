#include "study/cycle.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/cycle_text.hpp"

namespace airtally::cli {
namespace {

struct CycleCommandOptions {
  CommonOptions common;
  std::string thermal = "wall";
};

Answer run_cycle(const CycleCommandOptions& options) {
  const report::Look how = look(options.common);
  const line::Line line = read(options.common);
  study::CycleOptions asked;
  asked.thermal = thermal_of(options.thermal);
  const study::CycleAnswer answer = study::cycle(line, asked);
  const bool works = std::all_of(answer.heads.begin(), answer.heads.end(), [](const auto& h) { return h.works(); });
  return {options.common.json ? report::cycle_json(line, answer) : report::cycle_text(line, answer, how),
          works ? 0 : 1};
}

}  // namespace

Command add_cycle(CLI::App& app) {
  CLI::App* command = app.add_subcommand("cycle", "When may it lift? One whole pick, from valve to release");
  auto options = std::make_shared<CycleCommandOptions>();
  add_common(*command, options->common, false);
  add_thermal(*command, options->thermal);
  command->footer(
      "Ends with exit code 1 when a head never gets the vacuum it needs, or has too little of it when it lifts or "
      "travels.\nExample: airtally cycle lines/jewel-setter.toml");
  return {command, [options] { return run_cycle(*options); }};
}

}  // namespace airtally::cli
