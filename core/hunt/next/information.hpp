#pragma once
#include <cstddef>
#include <span>
#include <vector>

namespace airtally::hunt {

/// A stretch of readings and what it would mean: which element would then most likely be the worst, and who would be
/// cleared (below 5 %, having been above 10 %, and not by the luck of a few samples).
struct Outcome {
  double low = 0.0,                  ///< where it begins [the reading's unit]
      high = 0.0;                    ///< where it ends [the reading's unit]
  std::size_t element = 0;           ///< then most likely the worst, an index into the line
  double probability = 0.0;          ///< that it is the worst, over the stretch [-]
  double chance = 0.0;               ///< of reading something in the stretch [-], 0.02 or more
  double samples = 0.0;              ///< effective number of samples that the probability rests on [-]
  std::vector<std::size_t> cleared;  ///< elements, indices into the line
  double mean = 0.0;                 ///< of the readings in it, by their chance [the reading's unit]
};

/// Whether the samples behind an outcome are enough to name its element: half of the probability at least, and a
/// quarter two standard errors below it. One in two dozen that are alike is the likeliest by luck where few samples
/// speak.
bool names_one(const Outcome& outcome);

/// What a reading not yet made would tell about which element is the worst.
struct Information {
  double bits = 0.0;              ///< expected fall of the uncertainty (entropy) about the worst element [bit] >= 0
  std::vector<Outcome> outcomes;  ///< rising readings, those that are likely enough; empty when not asked for
};

/// From samples: `reading` that each predicts, the `worst` element in each, their `weight` (adding up to 1), and the
/// standard deviation `noise` > 0 of one reading. Mutual information by integration of the densities of the reading
/// given each element; these are sums of normal kernels as wide as the noise and the samples' own spacing (Silverman's
/// rule, narrower where samples crowd: a cluster at one reading is not spread over others) make them, so that few
/// samples don't pretend to separate what they merely sparsely cover. `elements`: number of elements. `outcomes` are
/// only made when asked for.
Information information_of(std::span<const double> reading, std::span<const std::size_t> worst,
                           std::span<const double> weight, double noise, std::size_t elements, bool with_outcomes);

/// Bits that several readings made at the same time tell beyond the first of them [bit] >= 0. `readings`: per reading
/// what each sample predicts, at least two; `noise`: per reading, > 0; the rest as for information_of().
///
/// Two gauges on one line go up and down together, and what tells is the little by which they don't. So what follows
/// from the first reading, as a cubic through all samples, is taken off the others first (which loses nothing: the
/// readings can be had back from what is left), where that takes half of their variance, and each element's density is
/// a sum of normal kernels with the covariance of the noise and, in every reading, the width that information_of()
/// gives that element's samples, in steps of two. The integral is a sum over the samples, each moved by a draw from its
/// kernel; the first reading's bits are taken from the same draws, so that the scatter of both, alike, drops out of the
/// difference. Tested by tests/hunt/information_test.cpp.
double bits_beyond_first(std::span<const std::vector<double>> readings, std::span<const std::size_t> worst,
                         std::span<const double> weight, std::span<const double> noise, std::size_t elements);

}  // namespace airtally::hunt
