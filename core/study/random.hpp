#pragma once
#include <cstdint>

namespace airtally::study {

/// A small seeded generator whose numbers are the same on every machine and library (SplitMix64; Steele, Lea and Flood,
/// OOPSLA 2014). The standard library's distributions differ between implementations, so we don't use them.
class Random {
 public:
  /// Any seed will do; the same seed, the same numbers.
  explicit Random(std::uint64_t seed) : state_(seed) {}

  /// 64 random bits.
  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31);
  }
  /// Uniform in [0, 1).
  double uniform() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }
  /// Uniform among 0 .. count - 1, count > 0 and far below 2^53.
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(uniform() * static_cast<double>(count)); }

 private:
  std::uint64_t state_;
};

}  // namespace airtally::study
