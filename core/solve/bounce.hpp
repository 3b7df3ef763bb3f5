#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "gas/air.hpp"
#include "solve/path_flow.hpp"

namespace airtally::solve {

/// Paths on which the stepper bounces, and their remedy. Where a wide path joins a tiny place to another, the drop over
/// it is next to nothing, and its flow goes with the root of the drop. A step of a stiff method is Newton's step there,
/// and Newton's step on a root runs from d to -d and back, at the size that the accuracy asked for lets pass: the line
/// never comes to rest and the steps stay as short as the tiny place's own time (1e5 of them in a millisecond).
///
/// A drop that changes its sign in every one of `patience` accepted steps while below `reach` is taken for that, and so
/// is one that stays below `reach` through `crawl_patience` steps in a row of less than `crawl` of the longest so far:
/// the step may as well end where it began, half way between the two. From then on the path is eased: below `reach` its
/// flow goes with the drop itself, up to the law's flow at `reach`. The pressures beside it are then off by no more
/// than `reach`.
class Bounce {
 public:
  static constexpr double reach = 0.5;        ///< size of a drop within which it can bounce [Pa]
  static constexpr int patience = 8;          ///< accepted steps in a row that must flip
  static constexpr double crawl = 1e-2;       ///< of the longest step
  static constexpr int crawl_patience = 100;  ///< accepted steps in a row that must be as short

  /// For that many paths, none eased.
  explicit Bounce(std::size_t paths) : last_(paths, 0.0), flips_(paths, 0), crawls_(paths, 0), eased_(paths, false) {}

  /// After each accepted step, `step` long [s] > 0: drops of all paths, a to b [Pa], 0 for those that can't bounce.
  void watch(std::span<const double> drops, double step);
  /// Whether the path is eased at that drop [Pa].
  bool eases(std::size_t path, double drop) const { return eased_[path] && drop < reach && drop > -reach; }
  /// Number of paths eased so far.
  std::size_t eased() const;

 private:
  std::vector<double> last_;
  std::vector<int> flips_, crawls_;
  double longest_ = 0.0;
  std::vector<bool> eased_;
};

/// Flow [kg/s] of an eased path between pressures `pa` and `pb` [Pa] nearer together than Bounce::reach; the other
/// arguments as in path_flow().
laws::Flow eased_flow(const Path& path, double pa, double pb, const gas::Air& air, double short_conductance,
                      double& guess);

}  // namespace airtally::solve
