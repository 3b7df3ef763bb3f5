#include "shapes.hpp"

#include <string>

#include "support/lines.hpp"

namespace airtally::bench {
namespace {

using support::Builder;

/// A pump that suits the number of nozzles.
Builder pump(double nozzles) {
  Builder b;
  const double litres = 2.0 * nozzles + 4.0;
  b.pump("pump", {{0.0, litres}, {40e3, 0.5 * litres}, {80e3, 0.0}}, 5e-6);
  return b;
}

std::string name(std::size_t i) { return std::to_string(i).insert(0, 1, 't'); }

/// Element k begins at element (k - 1)/2; the bore narrows with the depth so that the same flow per nozzle fits.
Builder branching(std::size_t elements, std::size_t first_end) {
  Builder b = pump(static_cast<double>(elements) / 2.0);
  double bore = 30e-3;
  std::size_t level_end = 1;
  for (std::size_t k = 1; k < elements; ++k) {
    if (k > level_end) {
      level_end = 2 * level_end + 1;
      bore = bore > 1.5e-3 ? 0.8 * bore : bore;
    }
    if (k >= first_end)
      b.nozzle(name(k), 0.6e-3, 5e-3, 1.2e-3);
    else
      b.tube(name(k), bore, 0.1);
    if (k % 8 == 0) b.leak(support::hole(0.05e-3));
    b.after(k <= 2 ? "pump" : name((k - 1) / 2));
  }
  return b;
}

}  // namespace

line::Line tree(std::size_t elements) { return branching(elements, elements / 2).part(20e-6, 4e-6).line; }

line::Line chain(std::size_t elements) {
  Builder b = pump(20.0);
  for (std::size_t k = 1; k + 1 < elements; ++k) {
    b.tube(name(k), 8e-3, 0.05);
    if (k % 8 == 0) b.leak(support::hole(0.2e-3 / static_cast<double>(1 + elements / 100)));
  }
  b.nozzle("nozzle", 1e-3, 6e-3, 1.8e-3);
  return b.part(20e-6, 4e-6).line;
}

line::Line mesh(std::size_t elements) {
  line::Line line = branching(elements, elements / 2).part(20e-6, 4e-6).line;
  // Neighbours on one level whose parents differ: the end of one tube is the end of the other.
  for (std::size_t k = 20; k + 1 < elements / 2; k += 20) line.elements[k].joins = name(k + 1);
  return line;
}

}  // namespace airtally::bench
