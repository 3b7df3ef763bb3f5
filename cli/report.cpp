#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>
#include <system_error>

#include "commands.hpp"
#include "common.hpp"
#include "gather.hpp"
#include "output.hpp"
#include "report/hunt_text.hpp"
#include "report/page/page.hpp"
#include "report/page/sections.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "studies.hpp"

namespace airtally::cli {
namespace {

struct ReportCommandOptions {
  CommonOptions common;
  GatherOptions gather;
  std::string page, folder;
};

/// What was written where, for people.
struct WrittenPage {
  std::string text;
  void add(const std::filesystem::path& file, const std::string& content) {
    write_file(file, content);
    text += "Wrote " + report::clean(file.string()) + ", " + std::to_string((content.size() + 500) / 1000) + " kB.\n";
  }
};

/// A page over what it is made from would leave neither.
void refuse_inputs(const ReportCommandOptions& options) {
  std::vector<std::string> inputs = options.gather.readings;
  inputs.push_back(options.common.line);
  if (!options.gather.log.empty()) inputs.push_back(options.gather.log);
  for (const std::string& input : inputs) {
    std::error_code unknown;
    if (std::filesystem::equivalent(options.page, input, unknown))
      throw BadInput(Position{}, "-o " + report::clean(options.page) +
                                     " would write the page over what it is made from; say another file, such as "
                                     "-o page.html");
  }
}

Answer run_report(const ReportCommandOptions& options) {
  const report::Look how = look(options.common);
  if (options.common.json && (!options.page.empty() || !options.folder.empty()))
    throw BadInput(Position{}, "--json answers programs; leave out -o and --svg with it.");
  const bool to_output = options.page.empty() && options.folder.empty() && !options.common.json;
  if (to_output && on_terminal())
    throw BadInput(Position{}, "a page is no text for a terminal; say where to write it, for instance: -o page.html");
  if (!options.page.empty()) refuse_inputs(options);
  const report::page::Findings found = gather(options.common, options.gather);
  reporting(options.common);
  if (options.common.json) return {report::report_json(found, how.changes)};
  if (to_output) return {report::page::page(found, how)};
  WrittenPage written;
  if (!options.page.empty()) written.add(options.page, report::page::page(found, how));
  if (!options.folder.empty()) {
    std::error_code failed;
    std::filesystem::create_directories(options.folder, failed);
    if (failed) throw CannotWrite(options.folder + " could not be made: " + failed.message() + '.');
    for (const report::page::Picture& picture : report::page::pictures(found, how))
      written.add(std::filesystem::path(options.folder) / (picture.id + ".svg"), report::page::svg_file(picture));
  }
  const bool read = report::page::was_read(found);
  std::string text;
  if (read) text = report::paragraph(report::hunt_verdict(found.line, *found.hunt, how)) + '\n';
  if (read && !found.hunt->converged) text += report::paragraph(report::page::rough_samples(*found.hunt)) + '\n';
  text += report::paragraph((read ? "By the line file alone: " : "") +
                            report::rank_verdict(found.line, found.ranking, how));
  return {text + '\n' + written.text};
}

}  // namespace

Command add_report(CLI::App& app) {
  CLI::App* command = app.add_subcommand("report", "One page to look at: all of it in pictures, in one file");
  auto options = std::make_shared<ReportCommandOptions>();
  add_common(*command, options->common, false);
  command->add_option("READINGS", options->gather.readings, "Readings files, as for hunt")->type_name("");
  command->add_option("-o,--output", options->page, "The page to write, such as page.html")->type_name("FILE");
  command->add_option("--svg", options->folder, "Write each picture as a file of its own")->type_name("FOLDER");
  command->add_option("--log", options->gather.log, "Measured pull-down: a table, \"time_s, vacuum_kPa\"")
      ->type_name("FILE");
  command->add_option("--at", options->gather.log_at, "Element where the log was recorded (default: the gauge)")
      ->type_name("NAME");
  add_from(*command, options->gather.from, "Pumps and joints (default: beside LINE, or built in)");
  command->add_flag("--no-bands", options->gather.no_bands, "Best estimates alone")->disable_flag_override();
  command->add_option("--samples", options->gather.samples, "Lines drawn for the bands (default: 256)")
      ->type_name("NUMBER");
  command->footer(
      "Without -o and --svg the page goes to standard output. It needs no network and\n"
      "opens in any browser.\n"
      "Example: airtally report lines/jewel-setter.toml -o page.html");
  return {command, [options] { return counted(options->common, [&] { return run_report(*options); }); }};
}

}  // namespace airtally::cli
