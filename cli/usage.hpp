#pragma once
#include <string>

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace airtally::cli {

/// A command line that can't be followed, in one sentence that says what to do. `app` is the one that refused it.
std::string usage_sentence(const CLI::App& app, const CLI::ParseError& error);

/// The sentence for a word that stands where a command should and is none; empty if it is one, or an option.
std::string no_such_command(const CLI::App& app, const std::string& word);

}  // namespace airtally::cli
