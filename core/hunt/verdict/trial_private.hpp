#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "hunt/fit/evidence.hpp"
#include "hunt/fit/least_squares.hpp"

namespace airtally::hunt {

/// Whether an unknown may be a fault, and not an instrument's error or what is the whole line's.
inline bool fault(const Unknown& unknown) {
  return unknown.what != What::offset && unknown.what != What::hole_share && unknown.what != What::plate;
}

/// The value of a fault's unknown on a line as the file has it.
inline double z_as_filed(const Unknown& unknown) { return unknown.prior.z_of(unknown.filed()); }

/// A fit of the line to the readings on trial: some unknowns held, the prior of one element's leak made wide.
class Trial {
 public:
  static constexpr double wide = 3.0;  ///< times the usual width of a leak's prior, of who may be at fault
  static constexpr std::size_t draws_each = 24;
  static constexpr double end = 5.0;  ///< z beyond which no draw goes

  /// Both must outlive the trial. `suspect`, an index into the line: whose leak's prior is wide.
  Trial(const Suspects& suspects, Evidence& evidence, std::size_t suspect);

  void hold(std::size_t unknown) { held_[unknown] = true; }
  /// The least sum of squares of the readings' misfits and of all z that are not held, over their widths; x holds all
  /// unknowns.
  Fit from(const std::vector<double>& start) const;
  /// Draws from what is possible about such a fit: each is fitted anew to readings and priors that are off at random as
  /// they may be (randomize, then optimize: Bardsley and others, SIAM J. Sci. Comput. 36 (2014) A1895). The normal
  /// distribution that touches there would not do: it reaches into states that miss the readings by a hundred standard
  /// deviations.
  std::vector<std::vector<double>> draws(const Fit& fit, std::uint64_t seed) const;

 private:
  std::vector<std::size_t> free() const;
  /// The same as from() where the readings' misfits and the z over their widths are to come to `aims`, all or none.
  Fit towards(const std::vector<double>& start, std::span<const double> aims, int limit, double tolerance) const;

  Evidence* evidence_;
  std::vector<bool> held_;
  std::vector<double> width_;
};

}  // namespace airtally::hunt
