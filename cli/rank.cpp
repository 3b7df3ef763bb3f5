#include "study/rank.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/json.hpp"
#include "report/text.hpp"
#include "studies.hpp"
#include "study/strip.hpp"

namespace airtally::cli {
namespace {

struct RankCommandOptions {
  CommonOptions common;
  std::string objective = "tip-vacuum";
  std::string nozzle;
  StudyOptions studies;
};

study::Objective objective_of(const std::string& word) {
  for (const auto objective : {study::Objective::tip_vacuum, study::Objective::hold, study::Objective::settle})
    if (report::word(objective) == word) return objective;
  throw BadInput(Position{}, "--objective: '" + word + "' is no objective; say tip-vacuum, hold or settle.");
}

Answer run_rank(const RankCommandOptions& options) {
  const CommonOptions& common = options.common;
  const report::Look how = look(common);
  const auto asked = [&](const line::Line& line) {
    study::RankOptions rank;
    rank.objective = objective_of(options.objective);
    rank.seed = sample_options(options.studies).seed;
    if (!options.nozzle.empty()) rank.nozzle = nozzle_named(line, options.nozzle, "--nozzle");
    return rank;
  };
  // To hold is asked of every tip that is not said to be without a part, as hold does.
  const auto tips = [&](const line::Line& line) {
    if (objective_of(options.objective) != study::Objective::hold) return tip_states(common, line);
    std::vector<solve::TipState> states = tip_states(common, line, solve::all_tips(line, solve::TipState::part));
    if (std::find(states.begin(), states.end(), solve::TipState::part) == states.end())
      throw BadInput({line.file, 0, 0}, "no tip is to have a part on, so there is nothing to hold.");
    return states;
  };
  const auto answer = [&](const line::Line& line) -> Answer {
    const study::Ranking ranking = study::rank(line, tips(line), asked(line));
    // Whether the removal test, which would be the next to ask for, shows anything on this line.
    const bool tells = common.json || study::strip(line, solve::usual_tips(line)).culprit.has_value();
    reporting(common);
    return {common.json ? report::rank_json(line, ranking) : report::rank_text(line, ranking, how, tells)};
  };
  const auto question = [&](const line::Line& line) { return study::rank_question(line, tips(line), asked(line)); };
  return answer_with_studies(common, options.studies, {answer, question});
}

}  // namespace

Command add_rank(CLI::App& app) {
  CLI::App* command = app.add_subcommand("rank", "What takes the rest? The costliest element first");
  auto options = std::make_shared<RankCommandOptions>();
  add_common(*command, options->common, true);
  command->add_option("--objective", options->objective, "Judge by tip-vacuum (default), hold or settle")
      ->type_name("WHAT");
  command->add_option("--nozzle", options->nozzle, "Nozzle whose tip is judged (default: the weakest)")
      ->type_name("NAME");
  add_studies(*command, options->studies);
  command->footer("Example: airtally rank lines/jewel-setter.toml --objective tip-vacuum");
  return {command, [options] { return counted(options->common, [&] { return run_rank(*options); }); }};
}

}  // namespace airtally::cli
