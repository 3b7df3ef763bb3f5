#pragma once
#include <string>
#include <vector>

namespace CLI {
class App;
}

/// What the command line understands, taken from its definition: manual pages, completions and help are written from
/// it, so that a new command or option is in all of them.
namespace airtally::cli {

struct OptionFacts {
  std::string name;                  ///< "--units"
  std::string value;                 ///< "UNIT"; empty for a flag
  std::string text;                  ///< what it does
  std::vector<std::string> choices;  ///< words it may take, where they are few
  bool file = false;                 ///< takes a file's name
};

struct CommandFacts {
  std::string name;      ///< "rank"
  std::string text;      ///< the question it answers
  std::string words;     ///< what stands behind it without dashes: "LINE"; empty if nothing does
  std::string of_words;  ///< what they are
  bool needs_words = false;
  std::vector<std::string> word_choices;  ///< where they are few: the topics of help
  std::vector<OptionFacts> options;
  std::string notes;                  ///< what its help says besides
  std::vector<std::string> examples;  ///< "airtally rank lines/jewel-setter.toml"
};

std::vector<CommandFacts> facts_of(const CLI::App& app);

}  // namespace airtally::cli
