#include "study/joint.hpp"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "errors.hpp"
#include "read/angles_file.hpp"
#include "read/stock.hpp"
#include "read/twist_file.hpp"
#include "report/joint_text.hpp"
#include "studies.hpp"
#include "study/question_joint.hpp"

namespace airtally::cli {
namespace {

struct JointCommandOptions {
  CommonOptions common;
  std::vector<std::string> from;
  std::string angles;
  StudyOptions studies;
};

/// What the file says of a tube that twists. `turns`: the line has a rotary joint.
line::Twist twist_of(const JointCommandOptions& options, const std::vector<read::Change>& changes, bool turns) {
  const auto twist = read::read_twist(options.common.texts->of(options.common.line), {}, changes);
  if (!twist && !turns)
    throw BadInput(Position{options.common.line, 0, 0},
                   "the line has no rotary joint and no [twist], so there is nothing to choose between. If its head "
                   "turns, describe how: the joint as an element with kind = \"rotary\", the tube that could twist in "
                   "its place in a table [twist].");
  if (!twist)
    throw BadInput(Position{options.common.line, 0, 0},
                   "there is no [twist]; add a table with the tube, how far it may turn and the motor: tube = { ... }, "
                   "limit = \"270 deg\", motor = { ... }.");
  line::Twist asked = *twist;
  if (options.angles == "uniform") asked.angles.clear();
  if (!options.angles.empty() && options.angles != "uniform") asked.angles = read::read_angles(options.angles);
  return asked;
}

/// What is asked of a line whose file was changed so.
Asking asking(const JointCommandOptions& options, const std::vector<read::Change>& changes, bool turns) {
  const report::Look how = look(options.common);
  const line::Twist twist = twist_of(options, changes, turns);
  const auto seals = [from = catalogues(options.common, options.from)](const line::Line& line) {
    return read::read_seals(from, line.site.pressure);
  };
  Asking asked;
  asked.answer = [=, json = options.common.json](const line::Line& line) -> Answer {
    const study::Joint joint = study::joint(line, twist, {seals(line)});
    return {json ? report::joint_json(line, joint) : report::joint_text(line, joint, how), joint.best ? 0 : 1};
  };
  asked.question = [=](const line::Line& line) { return study::joint_question(line, twist, seals(line)); };
  asked.least_cost = study::joint_cost;
  return asked;
}

Answer run_joint(const JointCommandOptions& options) {
  const line::Line line = read(options.common);  // what is wrong with the line is told first
  const bool turns = !line::all_of(line, line::Kind::rotary).empty();
  Asking asked = asking(options, changes_of(options.common), turns);
  asked.changed = [&](const std::vector<read::Change>& changes) { return asking(options, changes, turns); };
  return answer_with_studies(options.common, options.studies, asked);
}

}  // namespace

Command add_joint(CLI::App& app) {
  CLI::App* command = app.add_subcommand("joint", "Rotary joint or twisted tube? What each costs");
  auto options = std::make_shared<JointCommandOptions>();
  add_common(*command, options->common, false);
  add_from(*command, options->from, "Other seals (default: beside LINE, or built in)");
  command->add_option("--angles", options->angles, "The job's angles: a CSV file of placements, or uniform")
      ->type_name("FILE");
  add_studies(*command, options->studies);
  command->footer("Ends with exit code 1 when no way does the job.\nExample: airtally joint lines/jewel-setter.toml");
  return {command, [options] { return counted(options->common, [&] { return run_joint(*options); }); }};
}

}  // namespace airtally::cli
