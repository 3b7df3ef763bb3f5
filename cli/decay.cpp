#include "hunt/logs/decay.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "decay.hpp"
#include "gas/air.hpp"
#include "hunt/logs/hole_leak.hpp"
#include "hunt/logs/shut_off.hpp"
#include "read/line_file.hpp"
#include "read/log_file.hpp"
#include "report/decay_text.hpp"
#include "values.hpp"

namespace airtally::cli {
namespace {

struct DecayCommandOptions {
  CommonOptions common;
  std::string log, line, shut, volume, leak, hole, drift, ambient;
};

constexpr double volume_doubt = 0.1;  ///< two standard deviations of a volume added up from the file; common practice

/// What an option may be, both ends allowed [SI]: as the same thing in a file.
struct Allowed {
  units::Dimension dimension;
  double low, high;
  const char* words;
};
constexpr Allowed allowed_ambient{units::Dimension::pressure, 2e4, 1.2e5, "20 kPa .. 120 kPa"};
constexpr Allowed allowed_drift{units::Dimension::warming, 0.01, 20.0,
                                "0.01 K .. 20 K: it is by how much the temperature may have changed over the log"};
constexpr Allowed allowed_leak{units::Dimension::flow, 0.0, 1e4 * gas::free_air_density / 60e3,
                               "0 L/min .. 10000 L/min"};
constexpr Allowed allowed_hole{units::Dimension::length, 1e-6, 0.01, "0.001 mm .. 10 mm"};
constexpr Allowed allowed_volume{units::Dimension::volume, 0.0, 1.0, "0 mL .. 1000 L"};

units::Quantity value(const std::string& text, const Allowed& allowed, const std::string& option) {
  const units::Quantity q = quantity(text, allowed.dimension, option);
  if (!(q.value > 0.0 && q.low > 0.0))
    throw BadInput(Position{}, option + " " + text + ": it must be above zero, all of its tolerance too.");
  if (q.low < allowed.low || q.high > allowed.high)
    throw BadInput(Position{},
                   option + " " + text + (q.is_exact() ? " is" : " reaches") + " outside " + allowed.words + ".");
  return q;
}

/// Of what is taken as exact.
double single(const std::string& text, const Allowed& allowed, const std::string& option) {
  const units::Quantity q = value(text, allowed, option);
  if (q.is_exact()) return q.value;
  throw BadInput(Position{}, option + " " + text + ": it must be a single value, without a tolerance or range.");
}

Answer run_decay(const DecayCommandOptions& options) {
  const report::Look how = look(options.common);
  if (!options.leak.empty() && !options.hole.empty())
    throw BadInput(Position{}, "--leak and --hole say the same thing twice; give one of them.");
  if (!options.volume.empty() && !(options.leak.empty() && options.hole.empty()))
    throw BadInput(Position{}, std::string("--volume asks for the leak and --") +
                                   (options.leak.empty() ? "hole" : "leak") +
                                   " for the volume; give the one that you know.");
  if (!options.shut.empty() && options.line.empty())
    throw BadInput(Position{}, "--shut names an element of a line; give its file with --line.");
  report::DecayQuestion question;
  std::optional<line::Line> line;
  if (!options.line.empty()) {
    line = read::read_line(options.line);
    question.site = line->site;
  }
  if (!options.ambient.empty()) question.site.pressure = single(options.ambient, allowed_ambient, "--ambient");
  const double drift = single(options.drift, allowed_drift, "--drift");
  const line::Log log = read::read_log(options.log, question.site.pressure, line::fewest_decay_rows);
  options.common.stats->enter(Phase::study);
  question.decay = hunt::fit_decay(log, question.site, drift);
  if (!options.leak.empty()) question.leak = value(options.leak, allowed_leak, "--leak");
  if (!options.hole.empty()) {
    const hunt::HoleLeak known = hunt::leak_of_hole(value(options.hole, allowed_hole, "--hole"), question.site);
    question.leak = known.flow;
    question.leak_deviation = known.deviation;
  }
  if (!options.volume.empty()) {
    question.volume = value(options.volume, allowed_volume, "--volume");
  } else if (line && !question.leak) {
    const std::size_t at = options.shut.empty() ? hunt::shut_off(*line) : element_named(*line, options.shut, "--shut");
    const double beyond = hunt::shut_volume(*line, at);
    if (!(beyond > 0.0))
      throw BadInput(Position{}, "there is no volume on the tip's side of '" + line->elements[at].name +
                                     "'; say with --shut where the pump was shut off.");
    question.volume = units::Quantity::normal(beyond, volume_doubt * beyond);
    question.volume_from = "all beyond '" + line->elements[at].name + "' by the line file, give or take 10 %";
  }
  reporting(options.common);
  return {options.common.json ? report::decay_json(question) : report::decay_text(question, how)};
}

}  // namespace

Command add_decay(CLI::App& app) {
  CLI::App* command = app.add_subcommand("decay", "How tight? Leak or volume from a log of vacuum");
  auto options = std::make_shared<DecayCommandOptions>();
  command->add_option("LOG", options->log, "Measured decay: a table, \"time_s, vacuum_kPa\"")
      ->required()
      ->type_name("");
  command->add_option("--volume", options->volume, "Volume that was shut off, such as \"35 +- 2 mL\"")
      ->type_name("VOLUME");
  command->add_option("--leak", options->leak, "Known leak, free air at 60 kPa vacuum: asks the volume")
      ->type_name("FLOW");
  command->add_option("--hole", options->hole, "Known hole instead, its diameter")->type_name("LENGTH");
  command->add_option("--line", options->line, "Line file, for site and volume")->type_name("FILE");
  command->add_option("--shut", options->shut, "Element that shut the pump off")->type_name("NAME");
  options->drift = "0.5 K";
  command->add_option("--drift", options->drift, "Change of temperature to allow for (0.5 K)")->type_name("TEMP");
  command->add_option("--ambient", options->ambient, "Ambient pressure (101.325 kPa, or the line's)")
      ->type_name("PRESSURE");
  add_look(*command, options->common);
  command->footer("Example: airtally decay lines/readings/jewel-setter-twist-decay.csv --volume 5mL");
  return {command, [options] { return counted(options->common, [&] { return run_decay(*options); }); }};
}

}  // namespace airtally::cli
