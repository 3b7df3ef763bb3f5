#pragma once
#include <functional>
#include <vector>

#include "laws/detection.hpp"
#include "study/sense_decide.hpp"
#include "study/sense_line.hpp"
#include "study/sense_pick.hpp"

/// What a sensor behind an amplifier and a ready-made switch have in common.
namespace airtally::study {

/// The sensor at every element that can have one, best first; `there` says what it would meet, but for the element.
std::vector<SensorPlace> sensor_places(const line::Line& line, const std::function<SensorPlace(std::size_t)>& there);

/// The pick of the file's [cycle] by these readings. `rates_at` says what another threshold [Pa] would get wrong at
/// rest; one that errs too often is not proposed. Of `sense` the element and the nozzle are there already.
std::optional<SensedPick> pick_by(const line::Line& line, const Sense& sense, const SafeReadings& safe,
                                  const std::function<laws::ErrorRates(double)>& rates_at);

/// Of a sensor that tells: from when on a decision is safe, from rest and in the pick of the file's [cycle]. `rates_at`
/// as above.
void tell_when(const line::Line& line, const SensedLine& sensed, const SafeReadings& safe,
               const std::function<laws::ErrorRates(double)>& rates_at, Sense& result);

/// The two states at one place, `in_tube`: behind the sensor's own tube, as they come through the chain.
Seen seen_at(const SensedLine& sensed, std::size_t element, bool in_tube, const Chain& chain, const line::Adc& adc);

/// Whether the machine tells the two states apart by the best threshold.
bool told_apart(const Chain& chain, const line::Sensor& sensor, const Seen& seen);

/// Judges a sensor behind an amplifier. Of `result` the element, the nozzle and the neighbours are there already.
void judge_chain(const line::Line& line, const SensedLine& sensed, Sense& result);

/// The same of a switch.
void judge_switch(const line::Line& line, const SensedLine& sensed, Sense& result);

}  // namespace airtally::study
