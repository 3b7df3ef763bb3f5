#pragma once
#include <string>
#include <vector>

#include "laws/clipped.hpp"
#include "line/sensor.hpp"

namespace airtally::study {

/// Where on its way a noise comes in, which says what limits can hold it.
enum class NoiseAt {
  signal,    ///< ahead of the amplifier's output: its rails and the range of the ADC hold it
  adc,       ///< in the ADC: only its range holds it
  rounding,  ///< of the counts: nothing holds it
};

/// One source of noise, as vacuum at the sensor.
struct Noise {
  std::string what;              ///< "sensor", "amplifier", "ADC", "rounding" or "pump ripple"
  double one = 0.0;              ///< of one reading, rms [Pa]
  double decided = 0.0;          ///< of the average that decides, rms [Pa]
  NoiseAt at = NoiseAt::signal;  ///< where it comes in
};

/// From vacuum at the sensor to counts: bridge, amplifier, ADC, all straight but for the rails.
struct Chain {
  double bridge_slope = 0.0;  ///< bridge voltage per vacuum [V/Pa], negative where vacuum lowers it
  double gain = 0.0;          ///< of the amplifier as loaded by the bridge [-]
  double at_no_vacuum = 0.0;  ///< voltage at the ADC at no vacuum, were there no rails [V]
  double slope = 0.0;         ///< voltage at the ADC per vacuum [V/Pa]
  double low = 0.0;           ///< lowest voltage that gets through and is told apart [V]
  double high = 0.0;          ///< highest [V]; not above `low`: nothing gets through
  bool low_is_adc = true;     ///< `low` is the end of the ADC's range, not the amplifier's rail
  bool high_is_adc = true;    ///< the same of `high`
  double step = 0.0;          ///< of the ADC [V] > 0
  double least_counts = 0.0;  ///< lowest that the ADC can say [counts]
  double most_counts = 0.0;   ///< highest [counts]
  double fixed_error = 0.0;   ///< one standard deviation of what differs from build to build, at the ADC [V] >= 0
  std::vector<Noise> noises;  ///< all but the pump's ripple
};

/// The chain of a sensor as it is described. Throws DomainError for an ADC or resistors that are none.
Chain chain_of(const line::Sensor& sensor);

/// What one vacuum becomes along the chain.
struct ChainReading {
  double vacuum = 0.0;   ///< at the sensor [Pa]
  double read = 0.0;     ///< vacuum that the output stands for: another than `vacuum` where it is clipped [Pa]
  double bridge = 0.0;   ///< between its legs [V]
  double wanted = 0.0;   ///< at the ADC, were there no rails [V]
  double output = 0.0;   ///< at the ADC, held by the rails [V]
  double counts = 0.0;   ///< of the ADC, whole and of either sign [counts]
  bool clipped = false;  ///< a rail or the ADC's range holds it
};
/// What `vacuum` [Pa] becomes along `chain`, which is that of `sensor`.
ChainReading read_chain(const Chain& chain, const line::Sensor& sensor, double vacuum);

/// Vacuum that the output stands for when there is `vacuum` at the sensor: within what gets through [Pa].
double as_read(const Chain& chain, double vacuum);

/// The reading that decides, as vacuum [Pa], where `noises` are all there are and `more` [Pa] is a scatter of the
/// vacuum itself. It is averaged first and then held by the limits; what the noise of the ADC adds comes behind an
/// amplifier's rail but ahead of the end of the ADC's own range.
laws::Clipped decided_reading(const Chain& chain, double vacuum, const std::vector<Noise>& noises, double more = 0.0);

/// Share of builds [-], 0 to 1, in which the voltages of all vacuums between `least` and `most` [Pa] get through, given
/// that they differ by the fixed error.
double share_alive(const Chain& chain, double least, double most);

/// The same sensor with another gain [-] > 0; a bare bridge has none to change.
line::Sensor with_gain(line::Sensor sensor, double gain);

/// Share of builds [-] in which a front end must work to be called one that does.
inline constexpr double enough_builds = 0.99;

/// Largest gain [-] from 0.1 to 1e5 at which vacuums from `least` to `most` [Pa] get through in 99 % of builds; 0 where
/// none does. 1 for a bare bridge, whether they get through or not.
double best_gain(const line::Sensor& sensor, double least, double most);

/// A front end of that kind as such a bench would have it, on the same sensor: the file's own where it is of that kind,
/// else common practice (no source): difference with 1 % resistors of 10 kohm and an op amp that stops 1.5 V short of
/// its upper rail and 50 mV above ground; instrumentation with 0.2 mV, 90 dB, rails 0.1 V in and a bias of a tenth of
/// the ADC's reference; converter with 24 bits, 10 uV, 110 dB. `least`, `most` [Pa]: its gain is the best one for
/// these, or, where none is good enough, that at which most builds work.
line::Sensor with_front_end(const line::Sensor& sensor, line::FrontEnd kind, double least, double most);

}  // namespace airtally::study
