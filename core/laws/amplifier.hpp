#pragma once

/// What stands between a bridge and an ADC. Ideal op amps but for what each function names; resistances in ohm, above
/// zero.
namespace airtally::laws {

/// The four resistors of a one-op-amp difference amplifier. Leg a (the one that raises the output) comes in through
/// `in_a` and is divided by `to_reference`; leg b comes in through `in_b`, with `feedback` to the output.
struct DifferenceAmplifier {
  double in_a = 0.0;          ///< [ohm] > 0
  double to_reference = 0.0;  ///< from the op amp's plus input to the reference [ohm] > 0
  double in_b = 0.0;          ///< [ohm] > 0
  double feedback = 0.0;      ///< from the output to the op amp's minus input [ohm] > 0
};

/// Its output [V] for the voltages of the two legs and of the reference that it adds [V]. Exact for any four resistors.
/// Throws DomainError for a resistor that is not above zero.
double difference_output(const DifferenceAmplifier& amplifier, double leg_a, double leg_b, double reference = 0.0);

/// Gain of matched resistors fed from a bridge: feedback/(in + half the bridge's resistance), since each leg's own
/// resistance lies in series with its input resistor [V/V]. `in`, `feedback` [ohm] > 0; `source` [ohm] >= 0:
/// bridge_resistance(). Throws DomainError outside.
double difference_gain(double in, double feedback, double source = 0.0);

/// Common-mode rejection of a difference amplifier that is left by resistors of tolerance `tolerance` (0.01 is 1 %), at
/// their worst: about (1 + gain)/(4 tolerance) [V/V]. To first order in the tolerance. Source: textbook of op amps;
/// value recomputed, formula from memory. Throws DomainError unless both are above zero.
double difference_rejection(double gain, double tolerance);

/// Standard deviation of its common-mode gain [V/V] over many builds with resistors anywhere within the tolerance: four
/// independent errors of tolerance/sqrt(3), each weighing gain/(1 + gain). `gain` > 0, `tolerance` >= 0 [-]. Throws
/// DomainError outside.
double difference_common_gain(double gain, double tolerance);

/// Gain of the three-op-amp instrumentation amplifier [V/V]: 1 + 2 inner/set, resistors [ohm] > 0. Throws DomainError
/// outside. Source: textbook of op amps, from memory.
double instrumentation_gain(double inner, double set);

/// Rejection or ratio of `decibels` [dB] as [V/V]: 10^(dB/20).
double from_decibels(double decibels);

/// Between the rails.
struct Rails {
  double low = 0.0;   ///< [V]
  double high = 0.0;  ///< [V], above low
};

/// What comes out [V]: the voltage, but not beyond a rail. Throws DomainError unless low < high.
double between(double voltage, const Rails& rails);

/// One step of an ADC of `bits` >= 1 over `reference` [V] > 0: reference/2^bits [V]. Throws DomainError outside.
double adc_step(double reference, double bits);

/// Noise of rounding to a step: step/sqrt(12), rms, in the step's unit. Source: uniform error within a step.
double rounding_noise(double step);

/// Best signal-to-noise ratio that `bits` allow, for a sine of full size: 20 log10(2^bits sqrt(1.5)) = 6.02 bits + 1.76
/// [dB].
double best_ratio_decibels(double bits);

}  // namespace airtally::laws
