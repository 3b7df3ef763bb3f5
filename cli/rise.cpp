#include "study/rise.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "hunt/logs/rise_fit.hpp"
#include "read/log_file.hpp"
#include "report/json.hpp"
#include "report/rise_log.hpp"
#include "report/text.hpp"
#include "studies.hpp"

namespace airtally::cli {
namespace {

struct RiseCommandOptions {
  CommonOptions common;
  std::vector<std::string> at;
  std::string thermal = "wall";
  std::string log;
  StudyOptions studies;
};

Answer run_rise(const RiseCommandOptions& options) {
  const CommonOptions& common = options.common;
  const report::Look how = look(common);
  const solve::Thermal thermal = thermal_of(options.thermal);
  if (!options.log.empty() && !options.studies.sweeps.empty())
    throw BadInput(Position{}, "--log is of one line and --sweep of many; choose one.");
  const auto answer = [&](const line::Line& line) -> Answer {
    const auto tips = tip_states(common, line);
    study::RiseOptions asked;
    asked.thermal = thermal;
    for (const std::string& name : options.at) asked.at.push_back(element_named(line, name, "--at"));
    const study::Rise rise = study::rise(line, tips, asked);
    if (!options.log.empty()) {
      const line::Log log = read::read_log(options.log, line.site.pressure);
      const hunt::RiseFit fit = hunt::fit_rise(line, tips, log_place(line, options.at), log, thermal, rise.segments);
      reporting(common);
      return {common.json ? report::rise_json(line, tips, rise, &fit)
                          : report::rise_text(line, tips, rise, how) + report::rise_log_text(line, fit, how)};
    }
    reporting(common);
    return {common.json ? report::rise_json(line, tips, rise) : report::rise_text(line, tips, rise, how)};
  };
  const auto question = [&](const line::Line& line) {
    return study::rise_question(line, tip_states(common, line), thermal);
  };
  return answer_with_studies(common, options.studies, {answer, question, {}, study::rise_cost});
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
  command->add_option("--log", options->log, "Measured pull-down: a table, \"time_s, vacuum_kPa\"")->type_name("FILE");
  add_studies(*command, options->studies);
  command->footer("Example: airtally rise lines/jewel-setter.toml --tip blocked");
  return {command, [options] { return counted(options->common, [&] { return run_rise(*options); }); }};
}

}  // namespace airtally::cli
