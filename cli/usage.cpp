#include "usage.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <vector>

#include "units/suggest.hpp"

namespace airtally::cli {
namespace {

std::string near(const std::string& word, const std::vector<std::string>& known) {
  const std::vector<std::string_view> views(known.begin(), known.end());
  const auto found = units::nearest(word, views);
  return found ? fmt::format(" Did you mean '{}'?", *found) : std::string();
}

const CLI::App& chosen(const CLI::App& app) {
  const auto commands = app.get_subcommands();
  return commands.empty() ? app : *commands.front();
}

/// How to get help on what was being asked.
std::string help_hint(const CLI::App& command, const CLI::App& app) {
  return &command == &app ? " See airtally --help." : fmt::format(" See airtally {} --help.", command.get_name());
}

std::string unexpected(const CLI::App& app, const CLI::App& command) {
  const std::vector<std::string> left = app.remaining(true);
  const std::string word = left.empty() ? std::string("?") : left.front();
  if (!word.starts_with('-')) return fmt::format("'{}' is one word too many; a name with spaces needs quotes.", word);
  std::vector<std::string> known;
  for (const CLI::Option* option : command.get_options())
    for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
  const std::string bare = word.substr(0, word.find('='));
  const std::string hint = near(bare, known);
  return fmt::format("{} is no option of {}.{}", bare, &command == &app ? "airtally" : "airtally " + command.get_name(),
                     hint.empty() ? help_hint(command, app) : hint);
}

}  // namespace

std::string usage_sentence(const CLI::App& app, const CLI::ParseError& error) {
  const CLI::App& command = chosen(app);
  if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr) return unexpected(app, command);
  std::string what = error.what();
  if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr)
    what = what.starts_with("LINE") ? "a line file is needed" : what;
  // The parser says "--tip: 1 required STATE missing".
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr && what.find(" missing") != std::string::npos)
    what = what.substr(0, what.find(':')) + " needs a value behind it";
  if (const std::size_t at = what.find(" was given a disallowed flag override"); at != std::string::npos)
    what = "--" + what.substr(0, at) + " takes no value";
  while (what.ends_with('.') || what.ends_with('\n')) what.pop_back();
  return what + "." + help_hint(command, app);
}

std::string no_such_command(const CLI::App& app, const std::string& word) {
  if (word.starts_with('-')) return "";
  std::vector<std::string> known;
  for (const CLI::App* command : app.get_subcommands(nullptr)) {
    if (command->get_name() == word) return "";
    known.push_back(command->get_name());
  }
  return fmt::format("'{}' is no command; the commands are {}.{}", word, fmt::join(known, ", "), near(word, known));
}

}  // namespace airtally::cli
