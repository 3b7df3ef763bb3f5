#include "laws/isotonic.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>

#include "errors.hpp"
#include "study/random.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;

namespace {

std::vector<double> rising(std::vector<double> y) {
  std::vector<double> w(y.size(), 1.0);
  std::reverse(y.begin(), y.end());
  std::vector<double> z = laws::never_rising(y, w);
  std::reverse(z.begin(), z.end());
  return z;
}

/// The min-max formula: z_i is the least, over all begins s <= i, of the largest weighted mean of y[s..t], t >= i,
/// turned round for falling values.
double min_max(const std::vector<double>& y, const std::vector<double>& w, std::size_t i) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t s = 0; s <= i; ++s) {
    double most = -std::numeric_limits<double>::infinity();
    for (std::size_t t = i; t < y.size(); ++t) {
      double sum = 0.0, weight = 0.0;
      for (std::size_t k = s; k <= t; ++k) sum += w[k] * y[k], weight += w[k];
      most = std::max(most, sum / weight);
    }
    least = std::min(least, most);
  }
  return least;
}

}  // namespace

// Source (from memory): the example in the tests of a widely used library for machine learning: 3 7 5 9 8 7 10, rising,
// becomes 3 6 6 8 8 8 10.
TEST_CASE("a printed list is pooled as printed", "[laws][literature]") {
  CHECK(rising({3, 7, 5, 9, 8, 7, 10}) == std::vector<double>{3, 6, 6, 8, 8, 8, 10});
}

TEST_CASE("pooling gives what the min-max formula gives, whatever the weights", "[laws][agreement]") {
  study::Random random(3);
  for (int trial = 0; trial < 50; ++trial) {
    std::vector<double> y(1 + random.below(9)), w(y.size());
    for (double& v : y) v = 10.0 * random.uniform();
    for (double& v : w) v = 0.1 + random.uniform();
    const std::vector<double> z = laws::never_rising(y, w);
    REQUIRE(z.size() == y.size());
    for (std::size_t i = 0; i < y.size(); ++i) {
      CAPTURE(trial, i);
      CHECK_THAT(z[i], WithinAbs(min_max(y, w, i), 1e-9));
      if (i > 0) CHECK(z[i] <= z[i - 1]);
    }
  }
}

TEST_CASE("what falls already is left as it is", "[laws][property]") {
  const std::vector<double> y{9.0, 4.0, 4.0, 0.5}, w{1.0, 3.0, 0.5, 2.0};
  CHECK(laws::never_rising(y, w) == y);
  CHECK(laws::never_rising({}, {}).empty());
  CHECK_THROWS_AS(laws::never_rising(y, std::vector<double>{1.0}), DomainError);
  CHECK_THROWS_AS(laws::never_rising(y, std::vector<double>{1.0, 0.0, 1.0, 1.0}), DomainError);
}
