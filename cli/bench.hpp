#pragma once
#include <string>

#include "commands.hpp"
#include "hunt/hunt.hpp"
#include "report/look.hpp"

namespace airtally::cli {

/// The session at the bench: proposes a test, takes the reading as typed, and goes on until one element is 95 % likely,
/// no test tells more, or the person stops. Every reading is saved at once, to `save` or beside the line file; a
/// session that finds readings saved there goes on from them. `has`: the bench, where the readings don't say.
/// Reads standard input, so it works over a pipe.
Answer run_bench(const line::Line& line, const std::string& save, const hunt::Bench& has,
                 const hunt::HuntOptions& options, const report::Look& look);

}  // namespace airtally::cli
