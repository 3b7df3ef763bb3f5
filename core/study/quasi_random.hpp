#pragma once
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace airtally::study {

/// Points that fill the unit cube more evenly than chance would: a Sobol sequence (Boost.Random, directions after Joe
/// and Kuo, SIAM J. Sci. Comput. 30 (2008) 2635), every coordinate's digits shifted by a random number that the seed
/// gives, so that no point lies on the edge and different seeds give independent estimates. The first 2^k points of any
/// sequence make a net: each 2^k-th of a coordinate's range holds one.
class QuasiRandom {
 public:
  static constexpr std::size_t most_dimensions = 3667;  ///< Joe and Kuo's table in Boost

  /// `count` points of `dimensions` <= most_dimensions coordinates. Throws DomainError beyond.
  QuasiRandom(std::size_t count, std::size_t dimensions, std::uint64_t seed);

  /// Number of points.
  std::size_t count() const { return count_; }
  /// Number of coordinates of each.
  std::size_t dimensions() const { return dimensions_; }
  /// Coordinates [-] of point `i` < count(), each above 0 and below 1.
  std::span<const double> operator[](std::size_t i) const {
    return std::span<const double>(points_).subspan(i * dimensions_, dimensions_);
  }

 private:
  std::size_t count_, dimensions_;
  std::vector<double> points_;
};

}  // namespace airtally::study
