#include "stats.hpp"

#include "common.hpp"
#include "output.hpp"
#include "report/stats.hpp"

namespace airtally::cli {

void Stats::enter(Phase phase) {
  if (stays_) return;
  const Clock::time_point now = Clock::now();
  seconds_.at(static_cast<std::size_t>(now_)) += std::chrono::duration<double>(now - since_).count();
  since_ = now;
  now_ = phase;
}

Answer counted(const CommonOptions& options, const std::function<Answer()>& run) {
  if (!options.show_stats) return run();
  Stats& stats = *options.stats;
  const solve::CountingIn counting(&stats.work());
  Answer answer = run();
  stats.enter(Phase::report);
  const report::Took took{stats.work().sum(), stats.seconds(Phase::read), stats.seconds(Phase::study),
                          stats.seconds(Phase::report)};
  if (options.json) {
    if (const auto with = report::with_stats(answer.text, took)) {
      answer.text = *with;
      return answer;
    }
  }
  complain(report::stats_text(took));
  return answer;
}

}  // namespace airtally::cli
