#include "study/quasi_random.hpp"

#include <boost/random/sobol.hpp>

#include "errors.hpp"
#include "study/random.hpp"

namespace airtally::study {

QuasiRandom::QuasiRandom(std::size_t count, std::size_t dimensions, std::uint64_t seed)
    : count_(count), dimensions_(dimensions), points_(count * dimensions) {
  if (dimensions == 0 || count == 0) return;
  if (dimensions > most_dimensions) throw DomainError("QuasiRandom: the Sobol sequence has at most 3667 dimensions.");
  Random random(seed);
  std::vector<std::uint64_t> shift(dimensions);
  for (std::uint64_t& s : shift) s = random.next();
  boost::random::sobol sequence(dimensions);
  for (std::size_t i = 0; i < count; ++i)
    for (std::size_t d = 0; d < dimensions; ++d) {
      // Boost leaves out the sequence's first point, 0, without which 2^k points are no net.
      const std::uint64_t digits = (i == 0 ? 0 : sequence()) ^ shift[d];
      points_[i * dimensions + d] = (static_cast<double>(digits >> 12) + 0.5) * 0x1.0p-52;
    }
}

}  // namespace airtally::study
