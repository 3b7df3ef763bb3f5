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
  double worst_balance = 0.0;      ///< largest imbalance of a place at rest, relative to the flow through it
  double worst_run_balance = 0.0;  ///< largest amount of air or energy unaccounted for in a run, relative
  double seconds = 0.0;            ///< spent solving, of all threads together [s]
};

/// Where solves are added up, for whoever wants to show what an answer took. Safe from several threads; sums of counts
/// do not depend on their order.
class Work {
 public:
  void solved(std::size_t unknowns, std::size_t iterations, std::size_t evaluations, bool fallback, double balance);
  void ran(std::size_t steps, std::size_t rejected, std::size_t evaluations);
  void balanced(double imbalance);
  void took(double seconds);
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
  explicit CountingIn(Work* work);
  ~CountingIn();
  CountingIn(const CountingIn&) = delete;
  CountingIn& operator=(const CountingIn&) = delete;

 private:
  Work* before_;
};

/// Adds the time of its own life to the current work; does nothing where there is none.
class WorkTime {
 public:
  WorkTime() : work_(Work::current()) {
    if (work_ != nullptr) begin_ = Clock::now();
  }
  ~WorkTime() {
    if (work_ != nullptr) work_->took(std::chrono::duration<double>(Clock::now() - begin_).count());
  }
  WorkTime(const WorkTime&) = delete;
  WorkTime& operator=(const WorkTime&) = delete;

 private:
  using Clock = std::chrono::steady_clock;
  Work* work_;
  Clock::time_point begin_;
};

}  // namespace airtally::solve
