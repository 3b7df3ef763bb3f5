#pragma once
#include <span>
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "solve/answer.hpp"
#include "study/cycle.hpp"
#include "study/hold.hpp"
#include "study/rank.hpp"
#include "study/rise.hpp"
#include "study/sense.hpp"
#include "study/strip.hpp"

/// The answer of each command in a sentence or two, the same wherever it is shown: on a terminal or on a page. Not yet
/// broken into lines.
namespace airtally::report {

/// The vacuum at the tip, and what takes most of it.
std::string steady_verdict(const line::Line& line, const solve::SteadyAnswer& answer, const Look& look);
/// How soon the tip has its vacuum. `tips`: the states that the rise was asked for, one per nozzle.
std::string rise_verdict(const line::Line& line, std::span<const solve::TipState> tips, const study::Rise& rise,
                         const Look& look);
/// The element that costs the tip most.
std::string rank_verdict(const line::Line& line, const study::Ranking& ranking, const Look& look);
/// The biggest step of the removal test.
std::string strip_verdict(const line::Line& line, const study::Strip& strip, const Look& look);
/// Whether the part is held through its moves.
std::string hold_verdict(const line::Line& line, const study::Hold& hold, const Look& look);
/// When the part may be lifted.
std::string cycle_verdict(const line::Line& line, const study::CycleAnswer& answer, const Look& look);
/// Whether the sensor tells, and from when a decision is safe.
std::string sense_verdict(const line::Line& line, const study::Sense& sense, const Look& look);
/// What the sensor takes for a held part and is none, and how a half covered nozzle reads.
std::string sense_caution(const study::Sense& sense, const Look& look);
/// Where a switch is best set, and how wide its hysteresis may be there; empty for any other sensor.
std::string sense_advice(const line::Line& line, const study::Sense& sense, const Look& look);
/// What to see to before anything is taken off or blocked: the axes, and what this line's sources and valves bring.
std::string bench_cautions(const line::Line& line);
/// What to see to before a hand goes near a line that picks.
std::string cycle_cautions(const line::Line& line);

}  // namespace airtally::report
