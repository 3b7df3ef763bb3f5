#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "errors.hpp"
#include "line/element.hpp"

namespace airtally::line {

/// What stands between the sensor's bridge and the ADC.
enum class FrontEnd {
  bare,             ///< nothing: the ADC reads both legs of the bridge, one after the other
  difference,       ///< one op amp with four resistors
  instrumentation,  ///< three op amps, or one chip of that kind
  converter         ///< an ADC made for bridges: own amplifier, referred to the bridge's supply
};
/// "bare", "difference", "instrumentation", "converter".
std::string_view word(FrontEnd front_end);

struct Amplifier {
  FrontEnd kind = FrontEnd::instrumentation;
  Quantity gain = 1.0;                     ///< [-]; bare: 1
  Quantity resistor_tolerance = 0.01;      ///< of each of the four resistors of a difference amplifier, at most [-]
  std::optional<Quantity> input_resistor;  ///< of a difference amplifier; none: loads the bridge not at all [ohm]
  Quantity offset = 0.0;                   ///< of its input, either way, 2 sigma [V]
  std::optional<Quantity> rejection;       ///< of common mode by the chip itself [dB]; none: perfect
  Quantity noise = 0.0;                    ///< rms, referred to its input [V]
  Quantity bias = 0.0;                     ///< voltage that it adds to its output [V]
  std::optional<Quantity> rail_low, rail_high;  ///< that its output can reach [V]; none: no limit
};

struct Adc {
  Quantity bits = 12;
  Quantity reference = 3.3;  ///< full scale [V]; a converter's is the bridge's supply over its gain, either way
  Quantity rate = 1000.0;    ///< readings a second [Hz]
  Quantity average = 1;      ///< readings that one decision averages
  Quantity noise = 0.0;      ///< of one reading, beyond rounding, rms [counts]
};

/// A pressure sensor by which the machine tells a held part from a missed one.
struct Sensor {
  std::string at;             ///< element at whose tip-side end it branches off
  std::optional<Bore> tube;   ///< its own small tube; none: it sits in the line itself
  Quantity volume = 0;        ///< dead volume behind that tube [m3]
  Quantity range = 100e3;     ///< pressure difference of full span [Pa]
  Quantity span = 0.0;        ///< of the bridge at that [V]
  Quantity excitation = 5.0;  ///< supply of the bridge [V]
  Quantity zero = 0.0;        ///< bridge voltage at no vacuum: middle value and 2 sigma [V]
  Quantity resistance = 5e3;  ///< of the bridge [ohm]
  Quantity accuracy = 0.0;    ///< 2 sigma, alike for all readings of one sensor [Pa]
  Quantity noise = 0.0;       ///< of one reading, rms [Pa]
  bool vacuum_raises = true;  ///< false: the legs are swapped, vacuum lowers the voltage
  Quantity allowed = 1e-3;    ///< rate of wrong answers, either way, that is good enough [-]
  Amplifier amplifier;
  Adc adc;
  Position where;
  Position at_where;
};

}  // namespace airtally::line
