#include "facts.hpp"

#include <CLI/CLI.hpp>
#include <map>
#include <sstream>

#include "topics.hpp"

namespace airtally::cli {
namespace {

/// The words of options that take one of a few. tests/cli/help tries each.
std::vector<std::string> choices_of(const std::string& option) {
  static const std::map<std::string, std::vector<std::string>> known{
      {"--completion", {"bash", "zsh", "fish"}},
      {"--objective", {"tip-vacuum", "hold", "settle"}},
      {"--thermal", {"isothermal", "adiabatic", "wall"}},
      {"--tip", {"open", "part", "blocked"}},
      {"--units", {"kPa", "mbar", "inHg", "mmHg", "psi", "bar", "Torr"}},
  };
  const auto found = known.find(option);
  return found == known.end() ? std::vector<std::string>{} : found->second;
}

OptionFacts option_facts(const CLI::Option& option) {
  OptionFacts facts;
  facts.name = option.get_lnames().empty() ? "-" + option.get_snames().front() : "--" + option.get_lnames().front();
  if (option.get_items_expected_max() > 0) facts.value = option.get_type_name();
  facts.text = option.get_description();
  facts.choices = choices_of(facts.name);
  facts.file = facts.value == "FILE";
  return facts;
}

CommandFacts command_facts(const CLI::App& command) {
  CommandFacts facts;
  facts.name = command.get_name();
  facts.text = command.get_description();
  for (const CLI::Option* option : command.get_options()) {
    if (option->get_lnames().empty() && option->get_snames().empty()) {
      facts.words = option->get_name(true);
      facts.of_words = option->get_description();
      facts.needs_words = option->get_required();
    } else {
      facts.options.push_back(option_facts(*option));
    }
  }
  std::istringstream footer(command.get_footer());
  const std::string mark = "Example: ";
  for (std::string row; std::getline(footer, row);) {
    if (row.starts_with(mark))
      facts.examples.push_back(row.substr(mark.size()));
    else
      facts.notes += row + '\n';
  }
  return facts;
}

}  // namespace

std::vector<CommandFacts> facts_of(const CLI::App& app) {
  std::vector<CommandFacts> all;
  for (const CLI::App* command : app.get_subcommands(nullptr)) all.push_back(command_facts(*command));
  for (CommandFacts& command : all) {
    if (command.name != "help") continue;
    for (const CommandFacts& each : all) command.word_choices.push_back(each.name);
    for (const Topic& topic : topics()) command.word_choices.push_back(topic.name);
  }
  return all;
}

}  // namespace airtally::cli
