#pragma once
#include <memory>
#include <span>
#include <vector>

#include "hunt/forward.hpp"
#include "hunt/shut_leak.hpp"

namespace airtally::hunt {

/// All readings of a hunt against the line: by how many standard deviations of its own noise each misses, with slopes.
class Evidence {
 public:
  /// `suspects` must outlive the evidence. Throws BadInput when a setting is no sound line.
  Evidence(const Suspects& suspects, std::span<const Reading> readings, const Bench& bench);

  /// Number of readings.
  std::size_t size() const { return readings_.size(); }
  /// As they were given.
  const std::vector<Reading>& readings() const { return readings_; }
  /// Per reading, its standard deviation [Pa], [A] or [kg/s], > 0.
  const std::vector<double>& noise() const { return noise_; }

  /// (predicted - read)/noise per reading into `residuals`; unless empty, its slopes with z, a row per reading, into
  /// `slopes`. False when the line could not be solved at `z`; nothing is written then.
  bool evaluate(std::span<const double> z, std::span<double> residuals, std::span<double> slopes);

  std::size_t evaluations = 0;  ///< of all readings, so far

 private:
  const Suspects* suspects_;
  std::vector<Reading> readings_;
  std::vector<double> noise_;
  std::vector<std::unique_ptr<Rig>> rigs_;
  std::vector<ShutLeak> shut_leaks_;
  std::vector<std::size_t> rig_of_;  // per reading: the rig, or for a decay the leak into what was shut
};

}  // namespace airtally::hunt
