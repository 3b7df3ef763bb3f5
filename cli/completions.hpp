#pragma once
#include <string>
#include <vector>

#include "facts.hpp"

/// Scripts that let a shell complete what is being typed.
namespace airtally::cli {

/// For "bash", "zsh" or "fish". Throws BadInput for another.
std::string completion_script(const std::string& shell, const std::vector<CommandFacts>& commands);

}  // namespace airtally::cli
