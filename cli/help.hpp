#pragma once
#include "commands.hpp"

namespace airtally::cli {

/// Adds `airtally help`, which knows the commands that `app` has by the time it is asked.
Command add_help(CLI::App& app);

}  // namespace airtally::cli
