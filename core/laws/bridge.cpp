#include "laws/bridge.hpp"

#include "laws/require.hpp"

namespace airtally::laws {
namespace {

void check(const Bridge& b) {
  require(b.top_a > 0.0 && b.bottom_a > 0.0 && b.top_b > 0.0 && b.bottom_b > 0.0,
          "bridge: every resistor must be above zero");
}

}  // namespace

double bridge_output(const Bridge& b) {
  check(b);
  // One fraction instead of a difference of two, which would lose digits near balance.
  return (b.bottom_a * b.top_b - b.top_a * b.bottom_b) / ((b.top_a + b.bottom_a) * (b.top_b + b.bottom_b));
}

double bridge_resistance(const Bridge& b) {
  check(b);
  return b.top_a * b.bottom_a / (b.top_a + b.bottom_a) + b.top_b * b.bottom_b / (b.top_b + b.bottom_b);
}

}  // namespace airtally::laws
