#include "hunt/fit/evidence.hpp"

#include <algorithm>

#include "errors.hpp"

namespace airtally::hunt {

Evidence::Evidence(const Suspects& suspects, std::span<const Reading> readings, const Bench& bench)
    : suspects_(&suspects), readings_(readings.begin(), readings.end()) {
  const line::Topology topology = line::topology(suspects.line);
  std::vector<Setting> settings;
  for (const Reading& reading : readings_) {
    noise_.push_back(reading.noise > 0.0 ? reading.noise
                                         : meter_at(suspects.line, bench, reading.instrument, reading.at).noise());
    if (reading.instrument == Instrument::inflow) {
      rig_of_.push_back(shut_leaks_.size());
      shut_leaks_.emplace_back(suspects, topology, reading.setting, reading.at);
      continue;
    }
    const auto known = std::find(settings.begin(), settings.end(), reading.setting);
    rig_of_.push_back(static_cast<std::size_t>(known - settings.begin()));
    if (known != settings.end()) continue;
    settings.push_back(reading.setting);
    rigs_.push_back(std::make_unique<Rig>(suspects, topology, reading.setting));
  }
}

Evidence Evidence::another() const {
  std::vector<Reading> same = readings_;
  for (std::size_t i = 0; i < same.size(); ++i) same[i].noise = noise_[i];
  return {*suspects_, same, Bench{}};  // which is asked for noise alone
}

bool Evidence::evaluate(std::span<const double> z, std::span<double> residuals, std::span<double> slopes) {
  ++evaluations;
  const std::vector<double> values = suspects_->values(z);
  try {
    for (const auto& rig : rigs_) rig->solve(values);
  } catch (const NoConvergence&) {
    return false;
  } catch (const DomainError&) {
    return false;  // a value that no line can have, far out in a prior's tail: nothing speaks for it
  }
  const std::size_t n = z.size();
  for (std::size_t r = 0; r < readings_.size(); ++r) {
    const Reading& reading = readings_[r];
    if (reading.instrument == Instrument::inflow) {
      const ShutLeak& leak = shut_leaks_[rig_of_[r]];
      residuals[r] = (leak.at(values) - reading.value) / noise_[r];
      if (!slopes.empty())
        std::copy(leak.slopes().begin(), leak.slopes().end(), slopes.begin() + static_cast<std::ptrdiff_t>(r * n));
      continue;
    }
    Rig& rig = *rigs_[rig_of_[r]];
    residuals[r] = (rig.read(reading.instrument, reading.at, values) - reading.value) / noise_[r];
    if (!slopes.empty()) rig.slopes(reading.instrument, reading.at, values, slopes.subspan(r * n, n));
  }
  if (slopes.empty()) return true;
  for (std::size_t k = 0; k < n; ++k) {
    const double slope = suspects_->unknowns[k].prior.slope(z[k]);
    for (std::size_t r = 0; r < readings_.size(); ++r) slopes[r * n + k] *= slope / noise_[r];
  }
  return true;
}

}  // namespace airtally::hunt
