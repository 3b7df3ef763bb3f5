#include "study/hold.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "errors.hpp"
#include "gas/site.hpp"
#include "read/height.hpp"
#include "report/hold_text.hpp"
#include "studies.hpp"
#include "study/outage.hpp"
#include "values.hpp"

namespace airtally::cli {
namespace {

struct HoldCommandOptions {
  CommonOptions common;
  std::string altitude;
  StudyOptions studies;
};

double ambient_at(const std::string& altitude) {
  if (const auto slip = read::height_slip(altitude)) throw BadInput(Position{}, "--altitude: " + *slip);
  try {
    return gas::pressure_at_altitude(quantity(altitude, units::Dimension::length, "--altitude").value);
  } catch (const DomainError&) {
    throw BadInput(Position{}, "--altitude: '" + altitude + "' is outside -1000 m .. 11000 m.");
  }
}

/// As asked with --tip; unasked, every tip is to hold.
std::vector<solve::TipState> tips_of(const CommonOptions& common, const line::Line& line) {
  if (common.tips.empty()) return {};
  // What is not mentioned is to hold, also where the part does not close it: that is then said.
  return tip_states(common, line, solve::all_tips(line, solve::TipState::part));
}

Answer run_hold(const HoldCommandOptions& options) {
  const CommonOptions& common = options.common;
  const report::Look how = look(common);
  const auto placed = [&](const line::Line& line) {
    return options.altitude.empty() ? line : line::carried_to(line, ambient_at(options.altitude));
  };
  const auto answer = [&](const line::Line& as_read) -> Answer {
    const line::Line line = placed(as_read);
    const study::Hold hold = study::hold(line, tips_of(common, line));
    const std::vector<study::Outage> outages = study::outages(line, hold);
    reporting(common);
    return {common.json ? report::hold_json(line, hold, outages) : report::hold_text(line, hold, how, outages),
            hold.holds() ? 0 : 1};
  };
  const auto question = [&](const line::Line& line) {
    study::Question asked = study::hold_question(line, tips_of(common, line));
    asked.answer = [placed, ask = asked.answer](const line::Line& sample, std::span<double> out) {
      ask(placed(sample), out);
    };
    return asked;
  };
  return answer_with_studies(common, options.studies, {answer, question});
}

}  // namespace

Command add_hold(CLI::App& app) {
  CLI::App* command = app.add_subcommand("hold", "Will it hold? What the part and its moves need, and get");
  auto options = std::make_shared<HoldCommandOptions>();
  add_common(*command, options->common, true);
  command->add_option("--altitude", options->altitude, "As if this machine were carried to that height: \"1500 m\"")
      ->type_name("HEIGHT");
  add_studies(*command, options->studies);
  command->footer("Ends with exit code 1 when a part would not hold.\nExample: airtally hold lines/jewel-setter.toml");
  return {command, [options] { return counted(options->common, [&] { return run_hold(*options); }); }};
}

}  // namespace airtally::cli
