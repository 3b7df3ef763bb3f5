#include "study/turns.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "study/random.hpp"

namespace airtally::study {
namespace {

constexpr double whole = 2.0 * std::numbers::pi;
constexpr double same_time = 1e-9;   ///< [s]; below it two ways take the same time
constexpr double same_angle = 1e-9;  ///< [rad]; a turn that ends this far beyond the limit is within it

/// Whether way `a` is better than `b`; see next_turn().
bool better(const Turn& a, const Turn& b) {
  const double late = (a.late + a.late_back) - (b.late + b.late_back);
  if (std::abs(late) > same_time) return late < 0.0;
  const double turned = (std::abs(a.back) + std::abs(a.carried)) - (std::abs(b.back) + std::abs(b.carried));
  if (std::abs(turned) > same_angle) return turned < 0.0;
  return std::abs(a.end) < std::abs(b.end) - same_angle;
}

double not_hidden(double angle, const laws::TurningMotor& motor, double hidden) {
  return std::max(0.0, laws::turning_time(angle, motor).time - hidden);
}

class Ways {
 public:
  Ways(const TurningJob& job, double at) : job_(job), at_(at) {}

  /// The way that turns back to `from`, then by `carried`.
  void look_at(double from, double carried) {
    Turn turn{from - at_, carried, from + carried, 0.0, 0.0};
    turn.late_back = not_hidden(turn.back, job_.motor, job_.back);
    turn.late = not_hidden(turn.carried, job_.motor, job_.carry);
    if (!best_ || better(turn, *best_)) best_ = turn;
  }
  const std::optional<Turn>& best() const { return best_; }

 private:
  const TurningJob& job_;
  double at_;
  std::optional<Turn> best_;
};

}  // namespace

std::optional<Turn> next_turn(const TurningJob& job, double at, double angle) {
  const double way = laws::shortest_way(angle);
  Ways ways(job, at);
  if (!job.limit) {
    double from = at;
    if (job.pick) from = at + laws::shortest_way(*job.pick - at);
    // Half a turn is as far either way; elsewhere the short way is best.
    for (const double carried : {way, way - whole, way + whole}) ways.look_at(from, carried);
    return ways.best();
  }
  const double limit = *job.limit;
  const int most = static_cast<int>(std::ceil(2.0 * limit / whole)) + 1;
  for (int k = -most; k <= most; ++k) {
    const double carried = way + whole * k;
    if (std::abs(carried) > 2.0 * limit + same_angle) continue;
    // From here on the turn with the part fits.
    const double low = std::max(-limit, -limit - carried), high = std::max(low, std::min(limit, limit - carried));
    if (!job.pick) {
      ways.look_at(std::clamp(at, low, high), carried);
      continue;
    }
    const int first = static_cast<int>(std::ceil((low - same_angle - *job.pick) / whole));
    const int last = static_cast<int>(std::floor((high + same_angle - *job.pick) / whole));
    for (int j = first; j <= last; ++j) ways.look_at(*job.pick + whole * j, carried);
  }
  return ways.best();
}

Turns turns(const TurningJob& job, std::size_t least) {
  Turns all;
  if (job.angles.empty()) return all;
  double at = job.pick.value_or(0.0);
  while (all.placements + all.unreachable < least) {
    for (const double angle : job.angles) {
      const auto turn = next_turn(job, at, angle);
      if (!turn) {
        ++all.unreachable;
        continue;
      }
      ++all.placements;
      if (std::abs(turn->back) > same_angle) ++all.unwinds;
      all.carried += std::abs(turn->carried);
      all.back += std::abs(turn->back);
      all.carried_time += laws::turning_time(turn->carried, job.motor).time;
      all.back_time += laws::turning_time(turn->back, job.motor).time;
      all.late += turn->late;
      all.late_back += turn->late_back;
      all.farthest = std::max({all.farthest, std::abs(turn->end), std::abs(turn->end - turn->carried)});
      at = turn->end;
    }
    // Without a limit the angle is counted in whole turns that mean nothing.
    if (!job.limit) at = laws::shortest_way(at);
  }
  if (all.placements == 0) return all;
  const auto n = static_cast<double>(all.placements);
  for (double* sum : {&all.carried, &all.back, &all.carried_time, &all.back_time, &all.late, &all.late_back}) *sum /= n;
  return all;
}

std::vector<double> uniform_angles(std::size_t count) {
  Random random(1);
  std::vector<double> angles(count);
  for (double& angle : angles) angle = whole * (random.uniform() - 0.5);
  return angles;
}

}  // namespace airtally::study
