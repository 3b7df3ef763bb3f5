#include "study/check.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/json.hpp"
#include "report/text.hpp"

namespace airtally::cli {
namespace {

Answer run_check(const CommonOptions& options) {
  const report::Look how = look(options);
  const line::Line line = read(options);
  const auto warnings = study::warnings(line);
  reporting(options);
  return {options.json ? report::check_json(line, warnings) : report::check_text(line, warnings, how)};
}

}  // namespace

Command add_check(CLI::App& app) {
  CLI::App* command = app.add_subcommand("check", "Is this a sound line, and what was understood?");
  auto options = std::make_shared<CommonOptions>();
  add_common(*command, *options, false);
  command->footer("Example: airtally check lines/jewel-setter.toml");
  return {command, [options] { return counted(*options, [&] { return run_check(*options); }); }};
}

}  // namespace airtally::cli
