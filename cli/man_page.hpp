#pragma once
#include <string>
#include <vector>

#include "facts.hpp"

/// Manual pages in roff's man macros, for `man airtally` and `man airtally-rank`.
namespace airtally::cli {

/// The page of the whole: every command, every topic.
std::string man_page(const std::vector<CommandFacts>& commands);
/// The page of one command.
std::string man_page(const CommandFacts& command);

}  // namespace airtally::cli
