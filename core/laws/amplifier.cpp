#include "laws/amplifier.hpp"

#include <algorithm>
#include <cmath>

#include "laws/require.hpp"

namespace airtally::laws {

double difference_output(const DifferenceAmplifier& a, double leg_a, double leg_b, double reference) {
  require(a.in_a > 0.0 && a.to_reference > 0.0 && a.in_b > 0.0 && a.feedback > 0.0,
          "difference amplifier: every resistor must be above zero");
  const double plus = (leg_a * a.to_reference + reference * a.in_a) / (a.in_a + a.to_reference);
  return plus + (plus - leg_b) * a.feedback / a.in_b;
}

double difference_gain(double in, double feedback, double source) {
  require(in > 0.0 && feedback > 0.0 && source >= 0.0, "difference amplifier: resistors must be above zero");
  return feedback / (in + 0.5 * source);
}

double difference_rejection(double gain, double tolerance) {
  require(gain > 0.0 && tolerance > 0.0, "difference amplifier: gain and tolerance must be above zero");
  return (1.0 + gain) / (4.0 * tolerance);
}

double difference_common_gain(double gain, double tolerance) {
  require(gain > 0.0 && tolerance >= 0.0, "difference amplifier: gain must be above zero, tolerance not below");
  return 2.0 * tolerance / std::sqrt(3.0) * gain / (1.0 + gain);
}

double instrumentation_gain(double inner, double set) {
  require(inner > 0.0 && set > 0.0, "instrumentation amplifier: resistors must be above zero");
  return 1.0 + 2.0 * inner / set;
}

double from_decibels(double decibels) { return std::pow(10.0, decibels / 20.0); }

double between(double voltage, const Rails& rails) {
  require(rails.low < rails.high, "rails: the lower one must be below the upper one");
  return std::clamp(voltage, rails.low, rails.high);
}

double adc_step(double reference, double bits) {
  require(reference > 0.0 && bits >= 1.0, "ADC: reference above zero and at least one bit");
  return reference / std::exp2(bits);
}

double rounding_noise(double step) { return step / std::sqrt(12.0); }

double best_ratio_decibels(double bits) { return 20.0 * std::log10(std::exp2(bits) * std::sqrt(1.5)); }

}  // namespace airtally::laws
