#include "study/strip.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/json.hpp"
#include "report/text.hpp"

namespace airtally::cli {
namespace {

struct StripCommandOptions {
  CommonOptions common;
  bool sheet = false;
};

Answer run_strip(const StripCommandOptions& options) {
  const report::Look how = look(options.common);
  if (options.sheet && options.common.json)
    throw BadInput(Position{}, "--sheet is for paper and --json for programs; choose one of them.");
  const line::Line line = read(options.common);
  const study::Strip strip = study::strip(line, tip_states(options.common, line));
  if (options.common.json) return {report::strip_json(line, strip)};
  return {options.sheet ? report::sheet_text(line, strip, how) : report::strip_text(line, strip, how)};
}

}  // namespace

Command add_strip(CLI::App& app) {
  CLI::App* command = app.add_subcommand("strip", "How to prove it? Readings of a removal test");
  auto options = std::make_shared<StripCommandOptions>();
  add_common(*command, options->common, true);
  command->add_flag("--sheet", options->sheet, "Print a bench sheet to fill in")->disable_flag_override();
  command->footer("Example: airtally strip lines/jewel-setter.toml --sheet");
  return {command, [options] { return run_strip(*options); }};
}

}  // namespace airtally::cli
