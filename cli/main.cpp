// Exit codes: 0 answered; 1 the line cannot do what was asked, or the answer could not be written; 2 bad input; 3 a
// solver gave up; 70 a mistake of our own.
#include <CLI/CLI.hpp>
#include <exception>
#include <sstream>
#include <string>
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

/// Parses and runs; whatever goes to standard output is in `text`.
int answer(int argc, char** argv, std::string& text) {
  CLI::App app{"airtally: where a vacuum pick-up line loses its vacuum, and what to do about it", "airtally"};
  app.set_version_flag("--version", "airtally " + std::string(version));
  app.require_subcommand(0, 1);
  app.get_formatter()->column_width(24);  // leaves 56 columns for what an option does
  app.footer(
      "Start with: airtally rank lines/jewel-setter.toml\nMore on each: airtally COMMAND --help\nMore on topics: "
      "airtally help");
  const std::vector<Command> commands{add_new(app),   add_check(app), add_steady(app), add_rise(app),
                                      add_rank(app),  add_strip(app), add_hold(app),   add_hunt(app),
                                      add_decay(app), add_cycle(app), add_sense(app),  add_compare(app),
                                      add_joint(app), add_pumps(app), add_report(app), add_help(app)};
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
