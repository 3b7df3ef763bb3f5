#include "study/rise.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/json.hpp"
#include "report/text.hpp"

namespace airtally::cli {
namespace {

struct RiseCommandOptions {
  CommonOptions common;
  std::vector<std::string> at;
  std::string thermal = "wall";
};

Answer run_rise(const RiseCommandOptions& options) {
  const report::Look how = look(options.common);
  const line::Line line = read(options.common);
  const auto tips = tip_states(options.common, line);
  study::RiseOptions asked;
  asked.thermal = thermal_of(options.thermal);
  for (const std::string& name : options.at) asked.at.push_back(element_named(line, name, "--at"));
  const study::Rise rise = study::rise(line, tips, asked);
  return {options.common.json ? report::rise_json(line, tips, rise) : report::rise_text(line, tips, rise, how)};
}

}  // namespace

Command add_rise(CLI::App& app) {
  CLI::App* command = app.add_subcommand("rise", "How fast? Pull-down from ambient, with its curve");
  auto options = std::make_shared<RiseCommandOptions>();
  add_common(*command, options->common, true);
  command->add_option("--at", options->at, "Element to follow instead of the tips; may be repeated")
      ->type_name("NAME")
      ->take_all()
      ->allow_extra_args(false);
  add_thermal(*command, options->thermal);
  command->footer("Example: airtally rise lines/jewel-setter.toml --tip blocked");
  return {command, [options] { return run_rise(*options); }};
}

}  // namespace airtally::cli
