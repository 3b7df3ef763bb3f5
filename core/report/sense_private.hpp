#pragma once
#include <string>
#include <string_view>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/sense.hpp"

/// Pieces of the answer about a sensor, for one behind an amplifier and for a switch.
namespace airtally::report {

/// Digits that suit a number of any size in a table.
std::string three_digits(double x);

/// The state of that name, which must be one: "open", "half covered", "part", "part, leaking", "blocked".
const study::SensedState& sensed_state(const study::Sense& sense, std::string_view name);

/// "The sensor at the gauge tee tells a held part from a missed one", up to the colon that its reason follows; `what`
/// is the sensor or the switch.
std::string tells_or_not(const line::Line& line, const study::Sense& sense, std::string_view what);

/// From when on a decision is safe: in the pick where there is one, since it may be later there than at rest.
std::string sense_when(const line::Line& line, const study::Sense& sense, const Look& look);

/// Which of several nozzles is judged, and what the sensor can't tell where it feels several; empty for one nozzle.
std::string sense_nozzle(const line::Line& line, const study::Sense& sense);

/// Why no moment of `pick` is safe for a sensor that calls a part held at `on` [Pa] and missed at `off`, and what
/// helps.
std::string not_in_the_pick(const line::Line& line, const study::Sense& sense, const study::SensedPick& pick, double on,
                            double off, const Look& look);

/// Table of the noises; empty where nothing scatters.
std::string sense_noises(const study::Sense& sense, const Look& look);

/// Table of the places where the sensor could be.
std::string sense_places(const line::Line& line, const study::Sense& sense, const Look& look);

/// sense_verdict() of a switch.
std::string switch_verdict(const line::Line& line, const study::Sense& sense, const Look& look);

/// sense_text() of a switch.
std::string switch_text(const line::Line& line, const study::Sense& sense, const Look& look);

}  // namespace airtally::report
