#include "study/check.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "read/others_file.hpp"
#include "read/twist_file.hpp"
#include "report/json.hpp"
#include "report/text.hpp"
#include "studies.hpp"

namespace airtally::cli {
namespace {

Answer run_check(const CommonOptions& options) {
  const report::Look how = look(options);
  const line::Line line = read(options);
  auto warnings = study::warnings(line);
  // What only joint and pumps ask for has to be sound as well.
  const std::vector<read::Change> changes = changes_of(options);
  const read::LineText& file = options.texts->of(options.line);
  read::read_twist(file, {}, changes);
  const read::Others others = read::read_others(file, line.site.pressure, {}, changes);
  for (study::Warning& warning : study::misfits(line, others.parts, others.nozzles))
    warnings.push_back(std::move(warning));
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
