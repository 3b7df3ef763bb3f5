#pragma once
#include <optional>
#include <string>

#include "hunt/logs/decay.hpp"
#include "report/look.hpp"

namespace airtally::report {

/// What a decay was asked: the volume known, or the leak, or neither.
struct DecayQuestion {
  hunt::Decay decay;                      ///< the fit
  gas::Site site;                         ///< where it was logged
  std::optional<units::Quantity> volume;  ///< [m3] > 0; none: not known
  std::optional<units::Quantity> leak;    ///< [kg/s at the vacuum at which leaks are compared] > 0; none: not known
  std::string volume_from;                ///< what it was added up from; empty where it was stated
  double leak_deviation = 0.0;            ///< of a factor on that leak: HoleLeak::deviation [-]; 0: none
};

/// The decay as text for people, at most 80 columns wide: leak or volume, with what else may have made it.
std::string decay_text(const DecayQuestion& question, const Look& look);
/// The same as JSON, format 1; docs/json.md lists the keys.
std::string decay_json(const DecayQuestion& question);

}  // namespace airtally::report
