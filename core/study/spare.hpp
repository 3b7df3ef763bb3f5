#pragma once
#include <memory>
#include <mutex>
#include <utility>
#include <vector>

namespace airtally::study {

/// Things that are worth keeping from one piece of work to the next, lent to one thread at a time: no more are made
/// than there are threads at work.
template <class Thing>
class Spare {
 public:
  /// Lends one that is not in use, or what `make()` (a std::unique_ptr<Thing>) makes, for as long as `use(Thing&)`
  /// runs. Safe from several threads. What either throws goes on; one that `use` threw out of is not lent again.
  template <class Make, class Use>
  void lend(const Make& make, const Use& use) {
    std::unique_ptr<Thing> one;
    {
      const std::scoped_lock lock(guard_);
      if (!idle_.empty()) {
        one = std::move(idle_.back());
        idle_.pop_back();
      }
    }
    if (!one) one = make();
    use(*one);
    const std::scoped_lock lock(guard_);
    idle_.push_back(std::move(one));
  }

 private:
  std::mutex guard_;
  std::vector<std::unique_ptr<Thing>> idle_;
};

}  // namespace airtally::study
