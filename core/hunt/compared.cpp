// Readings beside what the samples make of them, and beside the file.
#include <algorithm>
#include <cmath>

#include "hunt/findings_private.hpp"
#include "hunt/samples/weighted.hpp"
#include "hunt/verdict/trial_private.hpp"

namespace airtally::hunt {
namespace {

/// Instruments' errors apart, what pumps, their motors and flows, and leaks differ by from what is stated, of it; no
/// source.
double usual_share(Instrument instrument) {
  return instrument == Instrument::inflow ? 2.0 : is_gauge(instrument) ? 0.05 : 0.1;
}

/// How a reading stands to what a line as filed shows, which is from `one` to `other`.
void hold_against_file(const Suspects& suspects, const Bench& bench, double noise, double one, double other,
                       Compared& c) {
  const Reading& r = c.reading;
  const double low = std::min(one, other), high = std::max(one, other);
  c.filed = std::clamp(r.value, low, high);
  const double shared = 0.5 * meter_at(suspects.line, bench, r.instrument, r.at).accuracy *
                        (r.instrument == Instrument::flow ? std::fabs(c.filed) : 1.0);
  const double open = std::max(3.0 * std::hypot(noise, shared), usual_share(r.instrument) * std::fabs(c.filed));
  const double less = c.filed - r.value;
  const double worse = is_gauge(r.instrument) ? less : r.instrument == Instrument::inflow ? -less : std::fabs(less);
  if (worse > open) c.missed = worse;
  // A third of the inflow, where three times as much is worse.
  const double better_by = r.instrument == Instrument::inflow ? std::max(3.0 * noise, c.filed * 2.0 / 3.0) : open;
  if ((is_gauge(r.instrument) || r.instrument == Instrument::inflow) && -worse > better_by) c.spare = -worse;
}

}  // namespace

Interval interval_of(const std::vector<double>& values, const std::vector<double>& weight) {
  const auto quantile = [&](double share) { return weighted_quantile(values, weight, share); };
  return {quantile(0.5), quantile(0.05), quantile(0.95)};
}

void compare(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs, Evidence& evidence, Hunt& result) {
  std::vector<std::vector<double>> predicted(evidence.size());
  std::vector<double> r(evidence.size()), weight;
  for (std::size_t s = 0; s < beliefs.z.size(); ++s) {
    if (!evidence.evaluate(beliefs.z[s], r, {})) continue;
    weight.push_back(beliefs.weight[s]);
    for (std::size_t i = 0; i < r.size(); ++i)
      predicted[i].push_back(evidence.readings()[i].value + r[i] * evidence.noise()[i]);
  }
  for (std::size_t i = 0; i < r.size(); ++i)
    result.readings.push_back({evidence.readings()[i], interval_of(predicted[i], weight)});
  std::vector<double> filed(suspects.unknowns.size(), 0.0), middle = filed, at_middle(r.size());
  for (std::size_t k = 0; k < filed.size(); ++k)
    if (fault(suspects.unknowns[k])) filed[k] = z_as_filed(suspects.unknowns[k]);
  if (!evidence.evaluate(filed, r, {}) || !evidence.evaluate(middle, at_middle, {})) return;
  for (std::size_t i = 0; i < r.size(); ++i) {
    const double noise = evidence.noise()[i], read = evidence.readings()[i].value;
    hold_against_file(suspects, bench, noise, read + noise * r[i], read + noise * at_middle[i], result.readings[i]);
  }
}

}  // namespace airtally::hunt
