#include "solve/tally.hpp"

#include <algorithm>

namespace airtally::solve {
namespace {

thread_local Work* counted_in = nullptr;

}  // namespace

Work* Work::current() { return counted_in; }

CountingIn::CountingIn(Work* work) : before_(counted_in) { counted_in = work; }
CountingIn::~CountingIn() { counted_in = before_; }

void Work::solved(std::size_t unknowns, std::size_t iterations, std::size_t evaluations, bool fallback,
                  double balance) {
  const std::scoped_lock lock(guard_);
  ++sum_.solves;
  sum_.unknowns = std::max(sum_.unknowns, unknowns);
  sum_.iterations += iterations;
  sum_.evaluations += evaluations;
  sum_.fallbacks += fallback ? 1 : 0;
  sum_.worst_balance = std::max(sum_.worst_balance, balance);
}

void Work::ran(std::size_t steps, std::size_t rejected, std::size_t evaluations) {
  const std::scoped_lock lock(guard_);
  ++sum_.runs;
  sum_.steps += steps;
  sum_.rejected += rejected;
  sum_.evaluations += evaluations;
}

void Work::balanced(double imbalance) {
  const std::scoped_lock lock(guard_);
  sum_.worst_run_balance = std::max(sum_.worst_run_balance, imbalance);
}

void Work::took(double seconds) {
  const std::scoped_lock lock(guard_);
  sum_.seconds += seconds;
}

WorkSum Work::sum() const {
  const std::scoped_lock lock(guard_);
  return sum_;
}

}  // namespace airtally::solve
