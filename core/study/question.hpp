#pragma once
#include <span>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/line_system.hpp"
#include "study/bands.hpp"
#include "study/cycle.hpp"
#include "study/rank.hpp"
#include "study/sense.hpp"

/// What each command is about, as numbers that can be asked of many lines: for bands, sweeps and comparisons.
namespace airtally::study {

/// What a number measures.
enum class Quality {
  vacuum,   ///< or a difference of vacuums [Pa]
  flow,     ///< [kg/s]
  leak,     ///< small enough for smaller units in text [kg/s]
  time,     ///< [s]
  mass,     ///< [kg]
  current,  ///< [A]
  length,   ///< [m]
  number,   ///< [-]
  chance    ///< 0 or 1 in one line, a probability over many [-]
};

/// One number of an answer.
struct Measure {
  std::string key;                    ///< as in JSON, unit and all: "mouth_vacuum_pa"
  std::string element;                ///< what it belongs to; empty: the whole line
  std::string words;                  ///< "vacuum at the tip"
  Quality quality = Quality::vacuum;  ///< what it measures
  bool shown = true;                  ///< also in text for people, not in JSON alone
  double time = -1;                   ///< of a point on a curve [s]; below 0: no curve
};

/// The numbers of one command. A `chance` is 0 or 1 in one line; over many its mean is a probability.
struct Question {
  std::vector<Measure> measures;  ///< the first is what it is about
  LineModel answer;               ///< writes one number per measure [SI]; NaN for none; may throw NoConvergence
  double cost = 1;                ///< of one line, in steady solves of a small one [-]
  /// What is not drawn: names of what the file's tables have, or their beginnings, that don't enter the answer or whose
  /// spread the question itself takes into account.
  std::vector<std::string> fixed = {};
};

/// What has no say in pressures and flows, for Question::fixed of a question about them: the part's mass and
/// height, its moves, cycle and sensor, and its sides, unless the line as it stands has one end on a rim.
std::vector<std::string> no_say_in_flow(const line::Line& line);

/// Question::cost of rise_question(), which asks the line as it stands before it is put.
inline constexpr double rise_cost = 400.0;
/// The same of sense_question().
inline constexpr double sense_cost = 600.0;

// Each of these may ask the line as it stands, and throws BadInput and NoConvergence as the study behind it does.
/// Vacuum at every element, flows, and the whole leak. `tips`: one state per nozzle, also below.
Question steady_question(const line::Line& line, std::vector<solve::TipState> tips);
/// Settle time, final vacuum and the curve of the slowest tip, at the pieces and moments of the line as it stands.
Question rise_question(const line::Line& line, std::vector<solve::TipState> tips, solve::Thermal thermal);
/// What each element costs, and which is the worst. A fair share is that of the line as it stands, plus the difference
/// that few but the same orders find between it and the sample.
Question rank_question(const line::Line& line, std::vector<solve::TipState> tips, const RankOptions& options);
/// Margin, vacuum, heaviest part and whether it holds, of the tips that are to have a part on; empty: all of them. The
/// gap is that of the sample, not its worst.
Question hold_question(const line::Line& line, std::vector<solve::TipState> tips = {});
/// Safe lift and margins of each head.
Question cycle_question(const line::Line& line, const CycleOptions& options);
/// Vacuum at the mouth of the slowest head of the line as it stands, over one pick.
Question cycle_curve_question(const line::Line& line);
/// What each instrument would read at every step of the removal test, and the odds of each element being the biggest
/// step. Of the instruments the judging one alone is shown.
Question strip_question(const line::Line& line, std::vector<solve::TipState> tips);
/// Whether the sensor tells, by how much, and when. `nozzle`: index into the nozzles; none: the one hardest to tell.
/// The part's gap and the sensor's zero, which differ from pick to pick and from build to build, stay spread in every
/// line drawn.
Question sense_question(const line::Line& line, std::optional<std::size_t> nozzle);

/// The answer, one number per measure [SI], for the line as it stands: every value at its best estimate, also those
/// that some commands judge at their worst.
std::vector<double> nominal(const Question& question, const line::Line& line);

/// The line of which samples are drawn: what the question does not draw is exact in it.
line::Line drawn_from(const Question& question, const line::Line& line);

/// The line with every value exact, at its best estimate.
line::Line as_stated(const line::Line& line);

/// An input that matters to a measure.
struct Matter {
  std::size_t measure = 0;  ///< index into Question::measures
  std::size_t input = 0;    ///< index into Bands::inputs
};
/// Of the measures that are no points of a curve, the first one that varies, and the input that matters most to it, by
/// what knowing it would take off its variance; none when nothing varies or influences were not asked for.
std::optional<Matter> what_matters(const Question& question, const Bands& bands);

}  // namespace airtally::study
