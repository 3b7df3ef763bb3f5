#pragma once
#include <optional>

#include "study/sense.hpp"

namespace airtally::study {

/// By what a decision is safe.
struct SafeReadings {
  double threshold = 0.0;     ///< held from there on [Pa]
  double held = 0.0;          ///< a held part reads as held from this vacuum on as often as asked for [Pa] >= threshold
  double missed = 0.0;        ///< a missed one as missed up to this [Pa] <= threshold
  double averaging = 0.0;     ///< that the readings of one decision take [s]
  double shift_held = 0.0;    ///< what the other nozzles' parts add to the vacuum of a held part on average [Pa]
  double shift_missed = 0.0;  ///< and to that of a missed one [Pa]
};

/// What the sensor at the element `at` feels of the part on `nozzle`, an index into the line, in one pick of the file's
/// [cycle]. Each state counts as told once its vacuum stays on its side until place, the averaging later, and no later
/// than the place.
/// Nothing without a [cycle], or where its times don't go together. Throws NoConvergence.
std::optional<SensedPick> sensed_pick(const line::Line& line, std::size_t at, std::size_t nozzle,
                                      const SafeReadings& safe);

}  // namespace airtally::study
