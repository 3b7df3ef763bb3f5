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

/// What stands between bridge and ADC, with its errors.
struct Amplifier {
  FrontEnd kind = FrontEnd::instrumentation;  ///< which of them it is
  Quantity gain = 1.0;                        ///< [-] > 0; bare: 1
  Quantity resistor_tolerance = 0.01;  ///< of each of the four resistors of a difference amplifier, at most [-] >= 0
  std::optional<Quantity> input_resistor;  ///< of a difference amplifier [ohm] > 0; none: loads the bridge not at all
  Quantity offset = 0.0;                   ///< of its input, either way, two standard deviations [V] >= 0
  std::optional<Quantity> rejection;       ///< of common mode by the chip itself [dB]; none: perfect
  Quantity noise = 0.0;                    ///< rms, of one reading, referred to its input [V] >= 0
  Quantity bias = 0.0;                     ///< voltage that it adds to its output [V]
  std::optional<Quantity> rail_low,        ///< lowest that its output can reach [V]; none: no limit
      rail_high;                           ///< highest [V], above the lowest; none: no limit
};

/// What turns the voltage into counts.
struct Adc {
  Quantity bits = 12;  ///< [-] >= 1
  /// Full scale [V] > 0. A converter does not use it: its own is the bridge's supply over its gain, either way.
  Quantity reference = 3.3;
  Quantity rate = 1000.0;  ///< readings a second [Hz] > 0
  Quantity average = 1;    ///< readings that one decision averages [-] >= 1
  Quantity noise = 0.0;    ///< of one reading, beyond rounding, rms [counts] >= 0
};

/// A ready-made vacuum switch: set points in place of bridge, amplifier and ADC, and an output that is on or off.
struct VacuumSwitch {
  Quantity on = 0.0;          ///< vacuum at which it switches on, which says held, as the vacuum rises [Pa] > 0
  Quantity hysteresis = 0.0;  ///< it switches off, which says missed, as vacuum falls this far below `on` [Pa], 0 to on
  Quantity response = 0.0;    ///< from the pressure to the output, a lag that only shifts the moments [s] >= 0

  /// Vacuum at which it switches off [Pa].
  double off() const { return on.value - hysteresis.value; }
};

/// A pressure sensor by which the machine tells a held part from a missed one.
struct Sensor {
  std::string at;             ///< element at whose tip-side end it branches off; no nozzle
  std::optional<Bore> tube;   ///< its own small tube; none: it sits in the line itself
  Quantity volume = 0;        ///< dead volume behind that tube, or at that end where there is none [m3] >= 0
  Quantity range = 100e3;     ///< pressure difference of full span [Pa] > 0
  Quantity span = 0.0;        ///< of the bridge at that [V] > 0
  Quantity excitation = 5.0;  ///< supply of the bridge [V] > 0
  Quantity zero = 0.0;        ///< bridge voltage at no vacuum: middle value and 2 sigma [V]
  Quantity resistance = 5e3;  ///< of the bridge [ohm] > 0
  Quantity accuracy = 0.0;    ///< two standard deviations, alike for all readings or switchings of one sensor [Pa] >= 0
  Quantity noise = 0.0;       ///< of one reading, or from one switching to the next, rms [Pa] >= 0
  bool vacuum_raises = true;  ///< false: the legs are swapped, vacuum lowers the voltage
  Quantity allowed = 1e-3;    ///< rate of wrong answers, either way, that is good enough [-], above 0, below 0.5
  Amplifier amplifier;        ///< behind the bridge
  Adc adc;                    ///< behind the amplifier
  std::optional<VacuumSwitch> ready_made;  ///< a switch instead; range, span, excitation, zero, resistance,
                                           ///< vacuum_raises, amplifier and adc then say nothing
  Position where;                          ///< of the table
  Position at_where;                       ///< of the key `at`
};

}  // namespace airtally::line
