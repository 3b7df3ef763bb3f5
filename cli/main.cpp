// Exit codes: 0 answered; 1 the line cannot do what was asked, or the answer could not be written; 2 bad input; 3 a
// solver gave up; 70 a mistake of our own.
#include <CLI/CLI.hpp>
#include <exception>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "airtally/version.hpp"
#include "commands.hpp"
#include "decay.hpp"
#include "errors.hpp"
#include "help.hpp"
#include "new.hpp"
#include "output.hpp"
#include "report/width.hpp"
#include "usage.hpp"

namespace airtally::cli {
namespace {

constexpr int cannot_write = 1, bad_input = 2, no_convergence = 3, own_mistake = 70;

int usage_error(const std::string& sentence) {
  complain(report::clean("airtally: " + sentence));
  return bad_input;
}

/// The words below a command's help, 80 columns wide.
std::string narrow(const std::string& footer) {
  std::istringstream rows(footer);
  std::string out;
  for (std::string row; std::getline(rows, row);) out += row.starts_with("Example: ") ? row : report::paragraph(row);
  return out;
}

/// A command's word on the command line, and what adds it.
struct Named {
  std::string_view word;
  Command (*add)(CLI::App& app);
};

constexpr Named offered[] = {
    {"new", add_new},     {"check", add_check}, {"steady", add_steady}, {"rise", add_rise},
    {"rank", add_rank},   {"strip", add_strip}, {"hold", add_hold},     {"hunt", add_hunt},
    {"decay", add_decay}, {"cycle", add_cycle}, {"sense", add_sense},   {"compare", add_compare},
    {"joint", add_joint}, {"pumps", add_pumps}, {"report", add_report}, {"help", add_help}};

/// Adds what the first word may ask for. Setting up the options of all commands takes longer than many an answer, so
/// a command that is named comes alone; help, and what is no command, need to know all.
std::vector<Command> add_commands(CLI::App& app, int argc, char** argv) {
  const std::string_view first = argc > 1 ? argv[1] : "";
  if (first == "--version") return {};
  std::vector<Command> added;
  for (const Named& command : offered)
    if (command.word == first && first != "help") return {command.add(app)};
  for (const Named& command : offered) added.push_back(command.add(app));
  return added;
}

/// Parses and runs; whatever goes to standard output is in `text`.
int answer(int argc, char** argv, std::string& text) {
  CLI::App app{"airtally: where a vacuum pick-up line loses its vacuum, and what to do about it", "airtally"};
  app.set_version_flag("--version", "airtally " + std::string(version));
  app.require_subcommand(0, 1);
  app.get_formatter()->column_width(24);  // leaves 56 columns for what an option does
  app.footer(
      "Start with: airtally rank lines/jewel-setter.toml\nMore on each: airtally COMMAND --help\nMore on topics: "
      "airtally help");
  const std::vector<Command> commands = add_commands(app, argc, argv);
  for (const Command& command : commands) command.app->footer(narrow(command.app->get_footer()));
  if (argc > 1) {
    const std::string sentence = no_such_command(app, argv[1]);
    if (!sentence.empty()) return usage_error(sentence);
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForVersion& asked) {
    text = std::string(asked.what()) + '\n';
    return 0;
  } catch (const CLI::CallForHelp&) {
    text = app.help();
    return 0;
  } catch (const CLI::ParseError& error) {
    return usage_error(usage_sentence(app, error));
  }
  for (const Command& command : commands) {
    if (!command.app->parsed()) continue;
    const Answer said = command.run();
    text = said.text;
    return said.code;
  }
  text = app.help();
  return 0;
}

/// Everything that main does.
int run(int argc, char** argv) {
  int code = 0;
  std::string text;
  try {
    code = answer(argc, argv, text);
  } catch (const BadInput& error) {
    for (const Complaint& complaint : error.complaints()) {
      const std::string at = to_string(complaint.at);
      complain(report::clean((at.empty() ? "airtally" : at) + ": " + complaint.sentence));
    }
    return bad_input;
  } catch (const CannotWrite& error) {
    complain(report::clean(std::string("airtally: ") + error.what()));
    return cannot_write;
  } catch (const NoConvergence& error) {
    complain(report::clean(std::string("airtally: ") + error.what()));
    return no_convergence;
  } catch (const std::exception& error) {
    complain(report::clean(std::string("airtally: a mistake of our own, not of your line: ") + error.what()));
    return own_mistake;
  }
  try {
    write_out(text);
  } catch (const CannotWrite& error) {
    complain(std::string("airtally: ") + error.what());
    return cannot_write;
  }
  return code;
}

}  // namespace
}  // namespace airtally::cli

int main(int argc, char** argv) { return airtally::cli::run(argc, argv); }
