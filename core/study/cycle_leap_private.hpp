#pragma once
#include <vector>

#include "solve/line_system.hpp"

namespace airtally::study {

/// How far a line is from where its cycle repeats itself, seen from one cycle, and a state nearer to it.
///
/// A cycle takes the state x to G(x); wanted is x = G(x). With f = G(x) - x, and M the slopes of G, what is left to go
/// is (1 - M)^-1 f. More air anywhere leaves more air everywhere, so no entry of M is below zero, and one cycle from a
/// state that is aside of x by the same d everywhere, which comes out aside by r d, tells its sums of rows, r = M 1.
/// From (1 - M) 1 = 1 - r follows that nothing is further to go than the largest of |f_i|/(1 - r_i): a place that keeps
/// nothing of a change has arrived, one that keeps 0.999 of it has a thousand such changes ahead.
///
/// Leaps after the first go by secants: what f was, at the states leapt from before, is projected onto what it is now
/// (Anderson, J. ACM 12 (1965) 547, with what each place stores as its weight). Exact where M is the same all the way
/// and no more ways of slow change than leaps; the leaps are short where it isn't.
class Leap {
 public:
  /// The state `x` as a cycle of `system` begins and `after` it [Pa].
  Leap(const solve::LineSystem& system, std::vector<double> x, std::vector<double> after);

  /// Largest change of a pressure over the cycle [Pa].
  double change() const;
  /// The state to run the cycle from to learn what it leaves of a change.
  std::vector<double> aside() const;
  /// Takes up where that came to. To be called before what follows.
  void came_to(const std::vector<double>& state);
  /// Most that any pressure has left to go [Pa].
  double left() const;
  /// Least of what the places lose of a change in a cycle, 1 - r [-].
  double least_loss() const;
  /// The state to go on from, where `earlier` leaps were made, the last one last.
  std::vector<double> onwards(const std::vector<Leap>& earlier) const;

 private:
  double product(const std::vector<double>& a, const std::vector<double>& b) const;
  std::vector<double> by_secants(const std::vector<Leap>& earlier) const;
  std::vector<double> by_loss() const;
  std::vector<double> bounded(std::vector<double> x) const;

  std::vector<std::size_t> pressures_;  ///< their indices in the state
  std::size_t unknowns_ = 0;            ///< of all places; the pressures, and what follows each
  std::vector<double> weight_;          ///< what each unknown stores
  double ambient_ = 0.0;                ///< [Pa]
  std::vector<double> x_, after_, f_, loss_;
};

}  // namespace airtally::study
