#pragma once
#include <span>
#include <string>
#include <vector>

#include "hunt/logs/rise_fit.hpp"
#include "line/line.hpp"
#include "solve/answer.hpp"
#include "study/check.hpp"
#include "study/rank.hpp"
#include "study/rise.hpp"
#include "study/strip.hpp"

/// Answers as JSON, format 1: SI with the unit in the key, keys in a fixed order, every number with just the digits
/// that bring it back exactly. docs/json.md lists the keys. A number that is not finite is our own mistake:
/// DomainError, naming the key.
namespace airtally::report {

/// The line as it was understood, what was assumed, and what is worth a warning.
std::string check_json(const line::Line& line, const std::vector<study::Warning>& warnings);
/// The line at rest. `limits`: where a flow law is beyond its range; the key "warnings" is there when any is.
std::string steady_json(const line::Line& line, const solve::SteadyAnswer& answer,
                        const std::vector<study::Warning>& limits = {});
/// The pull-down. `tips`: the states that the rise was asked for, one per nozzle. `log`: the fit to a measured log;
/// nullptr: there is none.
std::string rise_json(const line::Line& line, std::span<const solve::TipState> tips, const study::Rise& rise,
                      const hunt::RiseFit* log = nullptr);
/// The elements by what they cost.
std::string rank_json(const line::Line& line, const study::Ranking& ranking);
/// The removal test on paper.
std::string strip_json(const line::Line& line, const study::Strip& strip);

/// The word for an objective: "tip-vacuum", "hold", "settle".
std::string_view word(study::Objective objective);

}  // namespace airtally::report
