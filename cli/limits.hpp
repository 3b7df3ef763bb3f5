#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "common.hpp"
#include "study/check.hpp"

/// What is to be taken with care in an answer: said on standard error, beside it.
namespace airtally::cli {

/// Where the flow laws are beyond their range in the line at rest (study/law_limits.hpp), and before them the nozzles
/// that the part can't close, with what their tips are taken for: the first by name, the others by number; behind them
/// tubes that would flatten (study/flattening.hpp). `known`: the limits at rest, where they have been looked for
/// already. Throws BadInput and NoConvergence as the solve does.
std::vector<study::Warning> limits_at_rest(const CommonOptions& common, const line::Line& line,
                                           const std::optional<std::vector<study::Warning>>& known = {});

/// Each limit's sentence behind what tells which it is: the element's name and what the limit is about.
using KeyedLimits = std::vector<std::pair<std::string, std::string>>;
KeyedLimits keyed(const line::Line& line, const std::vector<study::Warning>& limits);

/// Says them, a line each, vacuum in the look's unit.
void warn(const report::Look& look, const std::vector<study::Warning>& limits);
/// Says those of every line of a sweep: a limit of an element once, with the first values beyond it. `limits` and
/// `values` have one entry per line, the values in the order of `names`. Vacuum as above.
void warn_of_sweep(const report::Look& look, const std::vector<KeyedLimits>& limits,
                   const std::vector<std::string>& names, const std::vector<std::vector<std::string>>& values);

}  // namespace airtally::cli
