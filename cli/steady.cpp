#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/json.hpp"
#include "report/text.hpp"
#include "solve/answer.hpp"

namespace airtally::cli {
namespace {

Answer run_steady(const CommonOptions& options) {
  const report::Look how = look(options);
  const line::Line line = read(options);
  const auto answer = solve::steady(line, tip_states(options, line));
  return {options.json ? report::steady_json(line, answer) : report::steady_text(line, answer, how)};
}

}  // namespace

Command add_steady(CLI::App& app) {
  CLI::App* command = app.add_subcommand("steady", "What does the tip get? Vacuum and flow everywhere");
  auto options = std::make_shared<CommonOptions>();
  add_common(*command, *options, true);
  command->footer("Example: airtally steady lines/jewel-setter.toml --tip open");
  return {command, [options] { return run_steady(*options); }};
}

}  // namespace airtally::cli
