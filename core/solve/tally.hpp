#pragma once
#include <chrono>
#include <cstddef>
#include <mutex>

namespace airtally::solve {

/// What solving took, added up.
struct WorkSum {
  std::size_t solves = 0;          ///< lines solved at rest
  std::size_t unknowns = 0;        ///< of the largest of them
  std::size_t iterations = 0;      ///< linear solves at rest
  std::size_t fallbacks = 0;       ///< solves that plain Newton did not manage
  std::size_t runs = 0;            ///< stretches of time integrated
  std::size_t steps = 0;           ///< accepted
  std::size_t rejected = 0;        ///< steps that had to be taken again, shorter
  std::size_t evaluations = 0;     ///< of all flows of a line with their slopes, at rest and in time
  double worst_balance = 0.0;      ///< largest imbalance of a place at rest, relative to the flow through it [-]
  double worst_run_balance = 0.0;  ///< largest amount of air or energy unaccounted for in a run, relative [-]
  double seconds = 0.0;            ///< spent solving, of all threads together [s]
};

/// Where solves are added up, for whoever wants to show what an answer took. Safe from several threads; sums of counts
/// do not depend on their order.
class Work {
 public:
  /// A solve at rest. `balance`: the largest imbalance that was left, relative to the flow through its place [-].
  void solved(std::size_t unknowns, std::size_t iterations, std::size_t evaluations, bool fallback, double balance);
  /// A stretch of time, with the steps accepted and rejected and the evaluations of all flows.
  void ran(std::size_t steps, std::size_t rejected, std::size_t evaluations);
  /// The amount of air or energy unaccounted for in a run, relative to what the line holds [-].
  void balanced(double imbalance);
  /// Time spent solving [s].
  void took(double seconds);
  /// All that was added so far.
  WorkSum sum() const;

  /// The work that this thread's solves are added to; nullptr, as it is unless somebody asked: none.
  static Work* current();

 private:
  mutable std::mutex guard_;
  WorkSum sum_;
};

/// As long as it lives, this thread's solves are added to `work`. Each thread has its own: whoever starts threads hands
/// Work::current() on to them.
class CountingIn {
 public:
  /// `work`: nullptr to count nowhere; must outlive this.
  explicit CountingIn(Work* work);
  /// Goes back to what this thread added to before.
  ~CountingIn();
  /// It belongs to one scope.
  CountingIn(const CountingIn&) = delete;
  /// It belongs to one scope.
  CountingIn& operator=(const CountingIn&) = delete;

 private:
  Work* before_;
};

/// Adds the time of its own life to the current work; does nothing where there is none.
class WorkTime {
 public:
  /// Begins to count, if there is a current work.
  WorkTime() : work_(Work::current()) {
    if (work_ != nullptr) begin_ = Clock::now();
  }
  /// Adds the time since then.
  ~WorkTime() {
    if (work_ != nullptr) work_->took(std::chrono::duration<double>(Clock::now() - begin_).count());
  }
  /// It belongs to one scope.
  WorkTime(const WorkTime&) = delete;
  /// It belongs to one scope.
  WorkTime& operator=(const WorkTime&) = delete;

 private:
  using Clock = std::chrono::steady_clock;
  Work* work_;
  Clock::time_point begin_;
};

}  // namespace airtally::solve
