#include "study/rim.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "line/seat.hpp"

namespace airtally::study {

laws::Grip grip_of(const line::Line& line, std::size_t at, const line::Move& move) {
  const line::Element& nozzle = line.elements.at(at);
  const auto& bore = std::get<line::Bore>(nozzle.restriction);
  const double sealed = 0.5 * line::sealed_diameter(line, at);
  laws::Grip grip;
  grip.inner = 0.5 * bore.bore.value;
  grip.outer = nozzle.rim ? std::max(0.5 * nozzle.rim->value, grip.inner) : grip.inner;
  // A part smaller than the rim is held on its own width only, but never on less than the bore.
  if (const auto sides = line::sides_of(*line.part))
    grip.outer = std::clamp(0.5 * sides->shorter, grip.inner, grip.outer);
  grip.area = std::numbers::pi * sealed * sealed;
  grip.friction = move.friction.value;
  return grip;
}

double creeping_share(const line::Line& line, std::size_t nozzle) {
  const line::Move move = line.move.value_or(line::Move{});
  if (!line.part || move.seal != line::SealAt::rim || line.part->gap.high <= 0.0) return 1.0;
  const laws::Grip grip = grip_of(line, nozzle, move);
  if (grip.outer <= grip.inner) return 1.0;
  const double ratio = grip.inner / grip.outer;
  return (1.0 - ratio * ratio) / (2.0 * std::log(1.0 / ratio));
}

}  // namespace airtally::study
