#include "hunt/hunt.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "bench.hpp"
#include "commands.hpp"
#include "common.hpp"
#include "hunt/logs/look_up.hpp"
#include "progress.hpp"
#include "read/line_file.hpp"
#include "read/plates_text.hpp"
#include "read/readings_file.hpp"
#include "report/hunt_text.hpp"
#include "values.hpp"
#include "whose_readings.hpp"

namespace airtally::cli {
namespace {

struct HuntCommandOptions {
  CommonOptions common;
  std::vector<std::string> files;
  bool bench = false;
  bool quick = false;
  bool plug_gauge = false;
  std::string plates;
  std::string save;
  std::string seed = "1";
};

/// The bar of long studies, for the share of the sampling that is done.
std::function<void(double)> progress() {
  constexpr double steps = 1000.0;
  const study::Progress bar = progress_bar();
  if (!bar) return {};
  return [bar](double share) { bar(static_cast<std::size_t>(steps * share), static_cast<std::size_t>(steps)); };
}

/// The bench as the options have it.
hunt::Bench bench_of(const HuntCommandOptions& options) {
  hunt::Bench bench;
  if (options.plug_gauge) bench.plug_gauge = hunt::Meter{};
  if (options.plates.empty()) return bench;
  bench.plates = of_option(
      "--plates", [&] { return read::plates_in(options.plates); },
      " Say the drilled plates' holes, as in --plates '0.5 mm, 1 mm', or none.");
  return bench;
}

Answer run_hunt(const HuntCommandOptions& options) {
  const report::Look how = look(options.common);
  hunt::HuntOptions hunting;
  hunting.quick = options.quick;
  hunting.sampling.seed = whole_number(options.seed, "--seed", 0);
  if (options.bench && options.common.json)
    throw BadInput(Position{}, "--bench asks and answers in words; ask for --json of the readings file that it saves.");
  if (!options.bench && !options.save.empty())
    throw BadInput(Position{}, "--save says where --bench keeps its readings; without --bench nothing is saved.");
  const hunt::Bench has = bench_of(options);
  if (options.bench) {
    if (options.files.size() != 1)
      throw BadInput(Position{}, "--bench takes one line file, as in: airtally hunt --bench lines/jewel-setter.toml");
    return run_bench(read(options.common, options.files.front()), options.save, has, hunting, how);
  }
  if (options.files.empty())
    throw BadInput(Position{}, "hunt needs a readings file, or --bench with a line file to take readings now.");
  std::vector<line::Notes> notes;
  for (const std::string& file : options.files) notes.push_back(read::read_readings(file));
  const line::Line line = read(options.common, line_named_by(notes));
  hunting.sampling.progress = progress();
  for (line::Notes& one : notes) read::read_logs(one, line.site);
  hunt::Readings readings = hunt::look_up(line, notes);
  if (!readings.bench.plug_gauge) readings.bench.plug_gauge = has.plug_gauge;
  if (has.plates) readings.bench.plates = has.plates;
  const hunt::Hunt found = hunt::hunt(line, readings, hunting);
  if (hunting.sampling.progress) hunting.sampling.progress(1.0);  // the bar is gone
  reporting(options.common);
  return {options.common.json ? report::hunt_json(line, found) : report::hunt_text(line, found, how)};
}

}  // namespace

Command add_hunt(CLI::App& app) {
  CLI::App* command = app.add_subcommand("hunt", "Readings in, culprit out, and the next test to make");
  auto options = std::make_shared<HuntCommandOptions>();
  command->add_option("FILES", options->files, "Readings files; with --bench the line file")->type_name("");
  command->add_flag("--bench", options->bench, "Take readings now, one after another")->disable_flag_override();
  command->add_flag("--plug-gauge", options->plug_gauge, "A loose gauge can go into the plug")->disable_flag_override();
  command->add_option("--plates", options->plates, "Holes of the plates at hand, '0.5 mm, 1 mm', or none")
      ->type_name("LIST");
  command->add_option("--save", options->save, "Where --bench keeps its readings")->type_name("FILE");
  command->add_flag("--quick", options->quick, "Few samples, for a first look")->disable_flag_override();
  command->add_option("--seed", options->seed, "Of the sampling (1)")->type_name("N");
  add_dress(*command, options->common);
  command->footer("Example: airtally hunt lines/readings/jewel-setter.toml");
  return {command, [options] { return counted(options->common, [&] { return run_hunt(*options); }); }};
}

}  // namespace airtally::cli
