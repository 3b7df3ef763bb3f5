#include "study/cycle_settle.hpp"

#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "study/cycle_leap_private.hpp"
#include "study/cycle_player_private.hpp"

namespace airtally::study {
namespace {

constexpr int most_cycles = 60;  ///< run before patience ends; the leaps need some ten of them

/// Largest difference between a cycle and the one before, over every mouth and gauge [Pa].
double drift_of(const CycleRun& now, const CycleRun& before, const Plan& plan) {
  constexpr int moments = 200;
  double most = 0.0;
  for (std::size_t w = 0; w < plan.heads.size() + now.gauges.size(); ++w)
    for (int s = 1; s < moments; ++s) {
      const double t = plan.period * s / moments;
      most = std::max(most, std::fabs(now.trajectory.at(w, t) - before.trajectory.at(w, t)));
    }
  return most;
}

/// Runs the cycles of one line.
class Repeats {
 public:
  Repeats(const line::Line& line, const line::Topology& topology, const CycleOptions& options)
      : missed_(options.missed),
        plan_(plan_of(line, options)),
        player_(line, topology, plan_, options),
        before_(player_.still()),
        now_(player_.blank()) {}

  SettledRun run(const SettledRun* like) {
    if (plan_.repeats == 1) {
      now_ = player_.blank();
      player_.play(0, plan_.end, &now_, 0.0);
      return answer(true);
    }
    begin(like && like->carried ? like : nullptr);
    const int most = plan_.repeats + most_cycles;
    while (true) {
      play();
      Leap leap(player_.system(), before_.x, player_.still().x);
      const bool close = drift_ <= alike && leap.change() <= alike;
      const Player::Still after = player_.still();
      if (close || cycles_ >= most) finish();
      if (close && like && !like->carried && leap.change() <= alike * like->memory) return answer(true);
      if (cycles_ >= most) return answer(false);
      const bool told = probe(leap);
      // One leap more costs little where the cycles have been left for leaps already.
      if (told && close && leap.left() <= (carried_ ? 0.25 * alike : alike)) return answer(true);
      if (told && leaps_to(after, leap)) continue;
      player_.back_to(after, after.x);
      play();
    }
  }

 private:
  static Plan plan_of(const line::Line& line, const CycleOptions& options) {
    Plan schedule = plan(line);
    // Enough for one cycle like all that follow.
    if (schedule.repeats > 1 && schedule.repeats < schedule.carried + 2) schedule = plan(line, schedule.carried + 2);
    // Of a cycle that is repeated only the last one misses: miss().
    return options.missed && schedule.repeats == 1 ? without_part(std::move(schedule), *options.missed) : schedule;
  }

  /// All but the first cycle that is judged; once its events are those of all that follow, from what `like` holds.
  void begin(const SettledRun* like) {
    const int as_all = plan_.carried + 1;
    const bool from_like = like && like->x.size() == player_.still().x.size();
    const int before = from_like ? std::max(plan_.repeats - 1, as_all + 1) : plan_.repeats - 1;
    while (cycles_ < before) {
      if (from_like && cycles_ == as_all) player_.back_to(player_.still(), like->x);
      play();
    }
  }

  /// One cycle more.
  void play() {
    CycleRun run = player_.blank();
    before_ = player_.still();
    player_.play(turn(), plan_.period, &run, 0.0);
    ++cycles_;
    drift_ = cycles_ > 1 ? drift_of(run, now_, plan_) : 0.0;
    steps_ += run.steps;
    pieces_ += run.pieces;
    worst_ = std::max(worst_, run.worst_balance);
    now_ = std::move(run);
  }

  /// The cycle of the plan whose events the next one has.
  int turn() const { return std::min(cycles_, plan_.repeats - 1); }

  /// Follows the heads that work later than others to their end.
  void finish() {
    const double late = plan_.end - plan_.repeats * plan_.period;
    const std::size_t steps = now_.steps, pieces = now_.pieces;
    for (int more = 0; more * plan_.period < late; ++more)
      player_.play(plan_.repeats + more, std::min(plan_.period, late - more * plan_.period), &now_,
                   (1 + more) * plan_.period);
    steps_ += now_.steps - steps;
    pieces_ += now_.pieces - pieces;
    worst_ = std::max(worst_, now_.worst_balance);
  }

  /// Runs the last cycle once more from a state a little aside; false: it can't be run from there.
  bool probe(Leap& leap) {
    try {
      player_.back_to(before_, leap.aside());
      player_.play(turn_played(), plan_.period, nullptr, 0.0);
    } catch (const NoConvergence&) {
      return false;
    }
    leap.came_to(player_.still().x);
    memory_ = leap.least_loss();
    return true;
  }

  /// Carries ahead what the line held after the last cycle, and runs one from there; what a leap upsets in hoses and
  /// mouths is gone at its end. False: it can't be run from there.
  bool leaps_to(const Player::Still& after, const Leap& leap) {
    try {
      player_.back_to(after, leap.onwards(leaps_));
      play();
    } catch (const NoConvergence&) {
      return false;
    }
    leaps_.push_back(leap);
    return carried_ = true;
  }

  /// The last cycle once more, in which a head finds no part where all before have found theirs: one that misses time
  /// after time is drained, and shows less than at the first miss, which is to be told.
  void miss(std::size_t head) {
    plan_ = without_part(std::move(plan_), head, plan_.repeats - 1);
    player_.back_to(before_, before_.x);
    now_ = player_.blank();
    player_.play(turn_played(), plan_.period, &now_, 0.0);
    finish();
  }

  int turn_played() const { return std::min(cycles_ - 1, plan_.repeats - 1); }

  SettledRun answer(bool settled) {
    if (missed_ && plan_.repeats > 1) miss(*missed_);
    SettledRun found;
    found.plan = plan_;
    found.run = std::move(now_);
    if (plan_.repeats > 1) {
      found.run.steps = steps_;
      found.run.pieces = pieces_;
      found.run.worst_balance = worst_;
      found.drift = drift_;
      found.plan.end -= found.plan.shown_from;
      std::erase_if(found.plan.events, [&](const PlannedEvent& e) { return e.repeat != plan_.repeats - 1; });
      found.plan.repeats = cycles_;
      found.plan.shown_from = 0.0;
    }
    found.settled = settled;
    found.carried = carried_;
    found.memory = memory_;
    found.x = before_.x;
    return found;
  }

  std::optional<std::size_t> missed_;
  Plan plan_;
  Player player_;
  Player::Still before_;  ///< as the last cycle began
  CycleRun now_;          ///< the last cycle
  std::vector<Leap> leaps_;
  double drift_ = 0.0, memory_ = 1.0, worst_ = 0.0;
  std::size_t steps_ = 0, pieces_ = 0;
  int cycles_ = 0;
  bool carried_ = false;
};

}  // namespace

SettledRun settle(const line::Line& line, const line::Topology& topology, const CycleOptions& options,
                  const SettledRun* like) {
  return Repeats(line, topology, options).run(like);
}

}  // namespace airtally::study
