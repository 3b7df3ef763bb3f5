#pragma once
#include <span>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "report/look.hpp"
#include "solve/answer.hpp"
#include "study/check.hpp"
#include "study/rank.hpp"
#include "study/rise.hpp"
#include "study/strip.hpp"

/// Answers as text for people: a verdict in a sentence or two, then the table or curve behind it, then what to do. At
/// most 80 columns wide. Numbers come from the answer; nothing is computed here but differences and sums of what is
/// shown.
namespace airtally::report {

/// The line as it was understood, what was assumed, and what is worth a warning.
std::string check_text(const line::Line& line, const std::vector<study::Warning>& warnings, const Look& look);
/// The line at rest.
std::string steady_text(const line::Line& line, const solve::SteadyAnswer& answer, const Look& look);
/// The pull-down. `tips`: the states that the rise was asked for, one per nozzle.
std::string rise_text(const line::Line& line, std::span<const solve::TipState> tips, const study::Rise& rise,
                      const Look& look);
/// The elements by what they cost. `strip_tells`: whether the removal test has a step that the line's instruments show;
/// where not, the answer sends to another test.
std::string rank_text(const line::Line& line, const study::Ranking& ranking, const Look& look, bool strip_tells = true);
/// The removal test on paper.
std::string strip_text(const line::Line& line, const study::Strip& strip, const Look& look);
/// The removal test's sheet for the bench: to print, plain.
std::string sheet_text(const line::Line& line, const study::Strip& strip, const Look& look);

}  // namespace airtally::report
