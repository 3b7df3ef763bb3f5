#pragma once
#include "commands.hpp"

namespace airtally::cli {

/// Adds `decay`: of a log, not of a line.
Command add_decay(CLI::App& app);

}  // namespace airtally::cli
