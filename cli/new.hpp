#pragma once
#include "commands.hpp"

namespace airtally::cli {

/// Adds `airtally new`.
Command add_new(CLI::App& app);

}  // namespace airtally::cli
