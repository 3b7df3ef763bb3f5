#include "studies.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <exception>
#include <utility>

#include "errors.hpp"
#include "grid.hpp"
#include "limits.hpp"
#include "output.hpp"
#include "progress.hpp"
#include "read/line_file.hpp"
#include "report/bands_text.hpp"
#include "report/sweep.hpp"
#include "report/width.hpp"
#include "values.hpp"

namespace airtally::cli {
namespace {

/// Solves of a small line that take about half a second on two threads.
constexpr double cheap_enough = 250'000.0;

Answer with_bands(const CommonOptions& common, const StudyOptions& options, const Asking& asking) {
  const line::Line line = read(common);
  Answer answer = asking.answer(line);
  warn(look(common), limits_at_rest(common, line, answer.limits));
  if (options.no_bands || (line::uncertain(line).empty() && !options.bands)) return answer;
  study::SampleOptions samples = sample_options(options);
  const auto calls = [&](std::size_t inputs) {
    return static_cast<double>(samples.samples) * (1.0 + 0.25 * static_cast<double>(inputs + 2));
  };
  // Some questions ask the line as it stands before they can be put: not where that would come to nothing.
  if (!options.bands && !cheap(calls(1) * asking.least_cost)) return answer;
  common.stats->enter(Phase::study);
  const study::Question question = asking.question(line);
  const line::Line drawn = study::drawn_from(question, line);
  const std::size_t inputs = line::uncertain(drawn).size();
  if (inputs == 0 && !options.bands) return answer;
  if (inputs == 0)
    throw BadInput(
        Position{line.file, 0, 0},
        "the file is sure of everything that this answer hangs on, so there are no bands; give a value a tolerance or "
        "a range, such as --set 'rotary joint.leak.clearance=20..45 um'.");
  if (!options.bands && (inputs > study::most_inputs || !cheap(calls(inputs) * question.cost))) return answer;
  const study::Bands bands = study::bands(drawn, question.measures.size(), question.answer, samples);
  const std::vector<double> nominal = study::nominal(question, line);
  reporting(common);
  answer.text = common.json ? report::with_bands(answer.text, question, bands, nominal)
                            : answer.text + report::bands_text(question, bands, look(common));
  return answer;
}

Answer swept(const CommonOptions& common, const StudyOptions& options, const Asking& asking) {
  std::vector<Sweep> sweeps;
  std::vector<std::string> names;
  for (const std::string& text : options.sweeps) {
    sweeps.push_back(sweep_of(text));
    names.push_back(sweeps.back().path);
  }
  const report::Look how = look(common);
  const auto combined = combinations(sweeps, options.shard);
  std::vector<report::SweepPoint> points(combined.size());
  std::vector<std::string> lines(combined.size());
  std::vector<KeyedLimits> limits(combined.size());
  const auto changed = [&](const std::vector<std::string>& values) {
    std::vector<read::Change> changes = changes_of(common);
    for (std::size_t k = 0; k < values.size(); ++k)
      changes.push_back({sweeps[k].path, values[k], "--sweep '" + sweeps[k].text + "'"});
    return changes;
  };
  const auto line_of = [&](const std::vector<std::string>& values) {
    return read(common, common.line, changed(values));
  };
  const auto asking_of = [&](const std::vector<std::string>& values) {
    return asking.changed ? asking.changed(changed(values)) : asking;
  };
  const auto run = [&](std::size_t i) {
    report::SweepPoint& point = points[i];
    point.values = combined[i];
    const line::Line line = line_of(combined[i]);
    const Asking here = asking_of(combined[i]);
    try {
      limits[i] = keyed(line, limits_at_rest(common, line));
      if (common.json) {
        lines[i] = here.answer(line).text;
        return;
      }
      const study::Question question = here.question(line);
      point.answers = study::nominal(question, line);
    } catch (const NoConvergence& error) {
      point.trouble = error.what();
    }
  };
  common.stats->enter(Phase::study);
  common.stats->stay(true);
  study::parallel(points.size(), sample_options(options).threads, run, progress_bar());
  common.stats->stay(false);
  warn_of_sweep(look(common), limits, names, combined);
  Answer answer;
  if (common.json) {
    for (std::size_t i = 0; i < points.size(); ++i) answer.text += report::sweep_json(names, points[i], lines[i]);
  } else if (!points.empty()) {
    const study::Question question = asking_of(combined.front()).question(line_of(combined.front()));
    reporting(common);
    answer.text =
        options.csv ? report::sweep_csv(names, question, points) : report::sweep_text(names, question, points, how);
  }
  if (std::any_of(points.begin(), points.end(), [](const auto& p) { return !p.trouble.empty(); })) answer.code = 3;
  return answer;
}

}  // namespace

void add_from(CLI::App& command, std::vector<std::string>& from, const std::string& help) {
  command.add_option("--from", from, help)->type_name("FOLDER")->take_all()->allow_extra_args(false);
}

std::vector<std::filesystem::path> catalogues(const CommonOptions& common, const std::vector<std::string>& from) {
  if (!from.empty()) return {from.begin(), from.end()};
  const std::filesystem::path beside = std::filesystem::path(common.line).parent_path() / "catalogue";
  std::error_code error;
  return std::filesystem::is_directory(beside, error) ? std::vector{beside} : std::vector<std::filesystem::path>();
}

bool cheap(double solves) { return solves <= cheap_enough; }

void refuse_both(const StudyOptions& options) {
  if (options.bands && options.no_bands)
    throw BadInput(Position{}, "--bands and --no-bands contradict each other; give one of them.");
}

void add_bands(CLI::App& command, StudyOptions& options, bool with_seed) {
  command.add_flag("--bands", options.bands, "How sure? Bands from tolerances; unasked where quick")
      ->disable_flag_override();
  command.add_flag("--no-bands", options.no_bands, "Best estimates alone")->disable_flag_override();
  command.add_option("--samples", options.samples, "Lines drawn for the bands (default: 512)")->type_name("NUMBER");
  if (with_seed) command.add_option("--seed", options.seed, "Of what is drawn (default: 1)")->type_name("NUMBER");
  command.add_option("--threads", options.threads, "Threads for it (default: 2)")->type_name("NUMBER");
}

void add_studies(CLI::App& command, StudyOptions& options, bool with_seed) {
  add_bands(command, options, with_seed);
  command.add_option("--sweep", options.sweeps, "Many lines: \"nozzle.bore=0.4..2 mm:9\" (:9 log)")
      ->type_name("NAME=VALUES")
      ->take_all()
      ->allow_extra_args(false);
  command.add_option("--shard", options.shard, "Only part 3 of 8 of a sweep: 3/8")->type_name("K/N");
  command.add_flag("--csv", options.csv, "A sweep as CSV, all of it in SI")->disable_flag_override();
}

study::SampleOptions sample_options(const StudyOptions& options) {
  study::SampleOptions result;
  if (!options.samples.empty()) result.samples = whole_number(options.samples, "--samples", 16, most_samples);
  if (!options.seed.empty()) result.seed = whole_number(options.seed, "--seed", 0);
  if (!options.threads.empty())
    result.threads = static_cast<unsigned>(whole_number(options.threads, "--threads", 1, most_threads));
  result.progress = progress_bar();
  return result;
}

Answer answer_with_studies(const CommonOptions& common, const StudyOptions& options, const Asking& asking) {
  const auto refuse = [](const char* sentence) { throw BadInput(Position{}, sentence); };
  refuse_both(options);
  if (options.sweeps.empty()) {
    if (!options.shard.empty()) refuse("--shard is a part of a sweep; give a --sweep as well.");
    if (options.csv) refuse("--csv is for sweeps; give a --sweep as well, or take --json.");
    return with_bands(common, options, asking);
  }
  if (options.bands) refuse("--bands and --sweep don't go together; a sweep shows best estimates.");
  if (options.csv && common.json) refuse("--csv and --json contradict each other; give one of them.");
  return swept(common, options, asking);
}

}  // namespace airtally::cli
