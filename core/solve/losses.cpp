#include "solve/losses.hpp"

#include "line/variant.hpp"

namespace airtally::solve {
namespace {

using line::none;

const line::Bore* bore_of(const line::Line& line, std::size_t i) {
  return i == none ? nullptr : std::get_if<line::Bore>(&line.elements[i].restriction);
}

/// The element whose bore goes on from the tip-side end of `i` with nothing else there, or `none`.
std::size_t only_follower(const line::Line& line, const line::Topology& topology, std::size_t i) {
  if (topology.beyond[i].size() != 1 || line.elements[i].volume.value > 0.0) return none;
  return topology.sharing[topology.place[i]] == 1 ? topology.beyond[i].front() : none;
}

EndLoss between(double own, double other) {
  if (own >= other) return {0.0, 0.0};
  const double s = (own / other) * (own / other);
  return {0.5 * (1.0 - s), (1.0 - s) * (1.0 - s)};
}

}  // namespace

EndLosses end_losses(const line::Line& line, const line::Topology& topology, std::size_t i) {
  EndLosses losses;
  const line::Bore* own = bore_of(line, i);
  if (!own) return losses;
  if (const auto* next = bore_of(line, only_follower(line, topology, i)))
    losses.tip = between(own->bore.value, next->bore.value);
  const std::size_t before = topology.before[i];
  const auto* previous = bore_of(line, before);
  if (previous && only_follower(line, topology, before) == i)
    losses.pump = between(own->bore.value, previous->bore.value);
  return losses;
}

}  // namespace airtally::solve
