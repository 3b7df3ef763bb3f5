#pragma once
#include <array>
#include <chrono>
#include <functional>

#include "commands.hpp"
#include "solve/tally.hpp"

namespace airtally::cli {

struct CommonOptions;

/// What a command spends its time on.
enum class Phase { read, study, report };

/// What an answer took: the clock runs from the moment it was made, always in one phase.
class Stats {
 public:
  /// From now on the time counts for `phase`.
  void enter(Phase phase);
  /// While several threads answer, all time counts for the phase that runs.
  void stay(bool on) { stays_ = on; }
  double seconds(Phase phase) const { return seconds_.at(static_cast<std::size_t>(phase)); }
  solve::Work& work() { return work_; }

 private:
  using Clock = std::chrono::steady_clock;
  Clock::time_point since_ = Clock::now();
  Phase now_ = Phase::read;
  std::array<double, 3> seconds_{};
  bool stays_ = false;
  solve::Work work_;
};

/// What `run` answers, with what that took where `--stats` asks for it: in JSON under the key "stats", otherwise, and
/// where the answer is several pieces of JSON, on standard error.
Answer counted(const CommonOptions& options, const std::function<Answer()>& run);

}  // namespace airtally::cli
