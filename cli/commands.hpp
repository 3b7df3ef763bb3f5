#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "study/check.hpp"

namespace CLI {
class App;
}

namespace airtally::cli {

/// What a command says, complete, and how the program ends: 0 answered, 1 the line cannot do what was asked.
struct Answer {
  std::string text;
  int code = 0;
  /// What to take with care in it, if the command has looked already.
  std::optional<std::vector<study::Warning>> limits = {};
};

/// One command: its place on the command line, and what to do when it was given.
struct Command {
  CLI::App* app = nullptr;
  std::function<Answer()> run;
};

// Each adds its command to `app`. One file per command.
Command add_check(CLI::App& app);
Command add_steady(CLI::App& app);
Command add_rise(CLI::App& app);
Command add_rank(CLI::App& app);
Command add_strip(CLI::App& app);
Command add_hold(CLI::App& app);
Command add_cycle(CLI::App& app);
Command add_hunt(CLI::App& app);
Command add_sense(CLI::App& app);
Command add_compare(CLI::App& app);
Command add_report(CLI::App& app);
Command add_joint(CLI::App& app);
Command add_pumps(CLI::App& app);

}  // namespace airtally::cli
