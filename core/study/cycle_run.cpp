#include "study/cycle_run.hpp"

#include <algorithm>

#include "study/cycle_player_private.hpp"

namespace airtally::study {

CycleRun play(const line::Line& line, const line::Topology& topology, const Plan& plan, const CycleOptions& options) {
  Player player(line, topology, plan, options);
  CycleRun run = player.blank();
  if (plan.repeats == 1) {
    player.play(0, plan.end, &run, 0.0);
    return run;
  }
  for (int turn = 0; turn * plan.period < plan.end; ++turn) {
    const double from = turn * plan.period;
    player.play(turn, std::min(plan.period, plan.end - from), &run, from);
  }
  return run;
}

}  // namespace airtally::study
