#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/json.hpp"
#include "report/text.hpp"
#include "studies.hpp"
#include "study/law_limits.hpp"

namespace airtally::cli {
namespace {

struct SteadyCommandOptions {
  CommonOptions common;
  StudyOptions studies;
};

Answer run_steady(const SteadyCommandOptions& options) {
  const CommonOptions& common = options.common;
  const report::Look how = look(common);
  const auto answer = [&](const line::Line& line) -> Answer {
    const study::Rest found = study::at_rest(line, tip_states(common, line));
    reporting(common);
    return {common.json ? report::steady_json(line, found.answer, found.limits)
                        : report::steady_text(line, found.answer, how),
            0, found.limits};
  };
  const auto question = [&](const line::Line& line) { return study::steady_question(line, tip_states(common, line)); };
  return answer_with_studies(common, options.studies, {answer, question});
}

}  // namespace

Command add_steady(CLI::App& app) {
  CLI::App* command = app.add_subcommand("steady", "What does the tip get? Vacuum and flow everywhere");
  auto options = std::make_shared<SteadyCommandOptions>();
  add_common(*command, options->common, true);
  add_studies(*command, options->studies);
  command->footer("Example: airtally steady lines/jewel-setter.toml --tip open");
  return {command, [options] { return counted(options->common, [&] { return run_steady(*options); }); }};
}

}  // namespace airtally::cli
