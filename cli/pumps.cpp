#include "study/pumps.hpp"

#include <CLI/CLI.hpp>
#include <memory>
#include <optional>

#include "commands.hpp"
#include "common.hpp"
#include "errors.hpp"
#include "gas/site.hpp"
#include "read/height.hpp"
#include "read/others_file.hpp"
#include "read/pump_readings_file.hpp"
#include "read/stock.hpp"
#include "report/pump_fit_text.hpp"
#include "report/pumps_text.hpp"
#include "studies.hpp"
#include "study/pump_fit.hpp"
#include "study/question_pumps.hpp"
#include "values.hpp"

namespace airtally::cli {
namespace {

struct PumpsCommandOptions {
  CommonOptions common;
  std::vector<std::string> from;
  std::string at, supply = "90 %", altitude, fit;
  StudyOptions studies;
};

double parsed(const std::string& text, const std::string& option, units::Dimension dimension, double low, double high,
              const std::string& allowed) {
  const units::Quantity given = quantity(text, dimension, option);
  if (!given.is_exact() || given.value < low || given.value > high)
    throw BadInput(Position{}, option + ": '" + text + "' is outside " + allowed + ".");
  return given.value;
}

Answer run_fit(const PumpsCommandOptions& options) {
  if (!options.common.line.empty())
    throw BadInput(Position{}, "--fit makes a pump's curve from readings and takes no line; ask one after the other.");
  const report::Look how = look(options.common);
  const line::PumpReadings readings = read::read_pump_readings(options.fit);
  const study::SampleOptions samples = sample_options(options.studies);
  const study::PumpFit fit = study::pump_fit(readings, samples.samples, samples.seed);
  return {options.common.json ? report::pump_fit_json(readings, fit) : report::pump_fit_text(readings, fit, how)};
}

/// A height to try where none is asked for [m]: 1500, or in steps of 500 as much above a machine that stands high.
double well_above(const line::Line& line) {
  double altitude = 1500.0;
  while (altitude < 11000.0 && gas::pressure_at_altitude(altitude) > 0.87 * line.site.pressure) altitude += 500.0;
  return altitude;
}

/// What is asked of a line whose file was changed so.
Asking asking(const PumpsCommandOptions& options, const std::vector<read::Change>& changes) {
  const report::Look how = look(options.common);
  const double supply =
      parsed(options.supply, "--supply", units::Dimension::number, 0.3, 1.3, "30 % .. 130 % of the rated voltage");
  std::optional<double> altitude;
  if (const auto slip = read::height_slip(options.altitude)) throw BadInput(Position{}, "--altitude: " + *slip);
  if (!options.altitude.empty())
    altitude = parsed(options.altitude, "--altitude", units::Dimension::length, -1000.0, 11000.0, "-1000 m .. 11000 m");
  const auto asked_of = [=, from = catalogues(options.common, options.from)](const line::Line& line) {
    study::PumpsOptions asked;
    asked.stock = read::read_stock(from, {line::Kind::pump, line::Kind::ejector}, line.site.pressure);
    read::Others others =
        read::read_others(options.common.texts->of(options.common.line), line.site.pressure, {}, changes);
    asked.parts = std::move(others.parts);
    asked.nozzles = std::move(others.nozzles);
    asked.at = options.at;
    asked.supply = supply;
    asked.altitude = altitude.value_or(well_above(line));
    return asked;
  };
  Asking asked;
  asked.answer = [=, json = options.common.json](const line::Line& line) -> Answer {
    const study::Pumps pumps = study::pumps(line, asked_of(line));
    const int code = pumps.smallest ? 0 : 1;
    if (json) return {report::pumps_json(line, pumps), code};
    std::vector<std::vector<solve::TipState>> states{solve::all_tips(line, solve::TipState::open)};
    // With a part that leaves a mouth open the line takes no more than one curve can show.
    if (pumps.why_not_closed.empty()) states.insert(states.begin(), solve::all_tips(line, solve::TipState::part));
    return {report::pumps_text(line, pumps, study::pump_against_line(line, states), how), code};
  };
  asked.question = [=](const line::Line& line) { return study::pumps_question(line, asked_of(line)); };
  return asked;
}

Answer run_pumps(const PumpsCommandOptions& options) {
  if (!options.fit.empty()) return run_fit(options);
  if (options.common.line.empty())
    throw BadInput(Position{}, "a line file is needed, or --fit with a file of readings. See airtally pumps --help.");
  read(options.common);  // what is wrong with the line is told first
  Asking asked = asking(options, changes_of(options.common));
  asked.changed = [&options](const std::vector<read::Change>& changes) { return asking(options, changes); };
  return answer_with_studies(options.common, options.studies, asked);
}

}  // namespace

Command add_pumps(CLI::App& app) {
  CLI::App* command = app.add_subcommand("pumps", "Which pump of a list does it, and what would just do?");
  auto options = std::make_shared<PumpsCommandOptions>();
  add_common(*command, options->common, false);
  command->get_option("LINE")->required(false);
  add_from(*command, options->from, "Catalogue or file (default: beside LINE, or built in)");
  command->add_option("--at", options->at, "Pump to exchange (default: the first)")->type_name("NAME");
  command->add_option("--supply", options->supply, "Supply voltage to try as well (default: 90 %)")->type_name("SHARE");
  command->add_option("--altitude", options->altitude, "Height to carry it to as well (default: 1500 m, or more)")
      ->type_name("HEIGHT");
  command->add_option("--fit", options->fit, "Instead: make a pump's curve from bench readings")->type_name("FILE");
  add_studies(*command, options->studies);
  command->footer(
      "Ends with exit code 1 when no pump does.\nExample: airtally pumps lines/jewel-setter.toml --from "
      "lines/catalogue");
  return {command, [options] { return counted(options->common, [&] { return run_pumps(*options); }); }};
}

}  // namespace airtally::cli
