#pragma once
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "study/parallel.hpp"

namespace airtally::study {

/// How much one input's uncertainty matters to one output, as parts of the output's variance.
struct Influence {
  /// What would go, on average, if this input alone were known [-]; an estimate may lie a little outside 0 to 1.
  double first = 0.0;
  double total = 0.0;  ///< what would stay if all others were known [-]
};

/// Numbers on the unit cube, written to `out`; NaN for none. Called from several threads at once.
using CubeModel = std::function<void(std::span<const double> u, std::span<double> out)>;

/// How influences are estimated.
struct InfluenceOptions {
  std::size_t base = 1024;  ///< points of each of the two base designs; costs base (inputs + 2) calls
  std::uint64_t seed = 1;   ///< of the points; the same seed, the same points
  unsigned threads = 2;     ///< that work on it; 0 counts as 1
  Progress progress = {};   ///< told of calls done; may be empty
};

/// First-order and total Sobol indices, per output and input:
///
///   S_i = mean( f(B) (f(AB_i) - f(A)) ) / V        Saltelli et al., Comput. Phys. Commun. 181 (2010) 259, table 2 (b)
///   T_i = mean( (f(A) - f(AB_i))^2 ) / (2 V)       Jansen, Comput. Phys. Commun. 117 (1999) 35; the same, table 2 (f)
///
/// A and B are the halves of a Sobol sequence of twice the dimensions, AB_i is A with column i of B, f is taken from
/// its mean, and V is the variance over A and B. Points where any of these is no number are left out. An output that
/// does not vary has no influences: all are 0. Throws DomainError for more than 1833 inputs (QuasiRandom). Tested by
/// tests/literature/influence_test.cpp.
std::vector<std::vector<Influence>> influences(std::size_t inputs, std::size_t outputs, const CubeModel& model,
                                               const InfluenceOptions& options = {});

}  // namespace airtally::study
