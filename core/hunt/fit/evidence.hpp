#pragma once
#include <memory>
#include <span>
#include <vector>

#include "hunt/fit/forward.hpp"
#include "hunt/fit/shut_leak.hpp"

namespace airtally::hunt {

/// Into how many parts work on the same evidence is split, each with lines of its own and its share in the same order,
/// on any machine: so an answer is the same to the last bit whatever number of threads does it.
inline constexpr std::size_t shares = 4;

/// All readings of a hunt against the line: by how many standard deviations of its own noise each misses, with slopes.
class Evidence {
 public:
  /// `suspects` must outlive the evidence. Throws BadInput when a setting is no sound line.
  Evidence(const Suspects& suspects, std::span<const Reading> readings, const Bench& bench);

  /// The same readings with lines of their own, for another thread: a solve starts from the one before it, so two that
  /// share a line can't run at the same time.
  Evidence another() const;

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
