#include "help.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "completions.hpp"
#include "errors.hpp"
#include "facts.hpp"
#include "man_page.hpp"
#include "topics.hpp"
#include "units/suggest.hpp"

namespace airtally::cli {
namespace {

struct HelpCommandOptions {
  std::string topic;
  std::string man;
  std::string completion;
  bool commands = false;
};

[[noreturn]] void refuse(const std::string& given, const std::string& what, const std::vector<std::string>& known) {
  const std::vector<std::string_view> views(known.begin(), known.end());
  const auto near = units::nearest(given, views);
  throw BadInput(Position{}, fmt::format("'{}' is no {}; there are {}.{}", given, what, fmt::join(known, ", "),
                                         near ? fmt::format(" Did you mean '{}'?", *near) : ""));
}

std::string overview(const CLI::App& app) {
  // app.help() would be the help of `help`, the command that was given.
  std::string out = app.get_formatter()->make_help(&app, app.get_name(), CLI::AppFormatMode::Normal) +
                    "\nTopics, for airtally help TOPIC:\n";
  for (const Topic& topic : topics()) out += fmt::format("  {:<22}{}\n", topic.name, topic.text);
  return out;
}

std::string man_text(const std::string& name, const std::vector<CommandFacts>& commands) {
  if (name == "airtally") return man_page(commands);
  std::vector<std::string> known{"airtally"};
  for (const CommandFacts& command : commands) {
    if (name == command.name || name == "airtally-" + command.name) return man_page(command);
    known.push_back(command.name);
  }
  refuse(name, "manual page", known);
}

Answer run_help(const CLI::App& app, const HelpCommandOptions& options) {
  if (options.commands) {
    std::string names;
    for (const CommandFacts& command : facts_of(app)) names += command.name + '\n';
    return {names};
  }
  if (!options.completion.empty()) return {completion_script(options.completion, facts_of(app))};
  if (!options.man.empty()) return {man_text(options.man, facts_of(app))};
  if (options.topic.empty()) return {overview(app)};
  std::vector<std::string> known;
  for (const CLI::App* command : app.get_subcommands(nullptr)) {
    if (command->get_name() == options.topic) return {command->help("airtally")};
    known.push_back(command->get_name());
  }
  for (const Topic& topic : topics()) {
    if (topic.name == options.topic) return {topic_text(topic)};
    known.push_back(topic.name);
  }
  refuse(options.topic, "command or topic", known);
}

}  // namespace

Command add_help(CLI::App& app) {
  CLI::App* command = app.add_subcommand("help", "A command, or a topic such as gauge-or-absolute");
  auto options = std::make_shared<HelpCommandOptions>();
  command->add_option("TOPIC", options->topic, "A command or a topic; without one, all of them")->type_name("");
  command->add_option("--man", options->man, "The manual page of a command, or of airtally")->type_name("NAME");
  command->add_option("--completion", options->completion, "A script for bash, zsh or fish")->type_name("SHELL");
  command->add_flag("--commands", options->commands, "The names of all commands, for scripts")->disable_flag_override();
  command->footer("Example: airtally help gauge-or-absolute");
  return {command, [&app, options] { return run_help(app, *options); }};
}

}  // namespace airtally::cli
