#include "study/rank.hpp"

#include <CLI/CLI.hpp>
#include <charconv>
#include <cstdint>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/json.hpp"
#include "report/text.hpp"

namespace airtally::cli {
namespace {

struct RankCommandOptions {
  CommonOptions common;
  std::string objective = "tip-vacuum";
  std::string nozzle;
  std::string seed;
};

study::Objective objective_of(const std::string& word) {
  for (const auto objective : {study::Objective::tip_vacuum, study::Objective::hold, study::Objective::settle})
    if (report::word(objective) == word) return objective;
  throw BadInput(Position{}, "--objective: '" + word + "' is no objective; say tip-vacuum, hold or settle.");
}

std::uint64_t seed_of(const std::string& text) {
  std::uint64_t seed = 0;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, seed);
  if (read.ec != std::errc() || read.ptr != end)
    throw BadInput(Position{}, "--seed: '" + text + "' is not a whole number from 0 up, such as 1.");
  return seed;
}

Answer run_rank(const RankCommandOptions& options) {
  const report::Look how = look(options.common);
  const line::Line line = read(options.common);
  study::RankOptions asked;
  asked.objective = objective_of(options.objective);
  if (!options.seed.empty()) asked.seed = seed_of(options.seed);
  if (!options.nozzle.empty()) asked.nozzle = nozzle_named(line, options.nozzle, "--nozzle");
  const study::Ranking ranking = study::rank(line, tip_states(options.common, line), asked);
  return {options.common.json ? report::rank_json(line, ranking) : report::rank_text(line, ranking, how)};
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
  command->add_option("--seed", options->seed, "Seed of the sampling that long lines need")->type_name("NUMBER");
  command->footer("Example: airtally rank lines/jewel-setter.toml --objective tip-vacuum");
  return {command, [options] { return run_rank(*options); }};
}

}  // namespace airtally::cli
