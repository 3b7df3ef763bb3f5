#pragma once
#include <span>
#include <vector>

#include "line/topology.hpp"

/// Lines made from a line: what the removal test and the ranking ask about.
namespace airtally::line {

/// A line with something taken off, and where each of the old elements went.
struct Capped {
  Line line;                       ///< what is left
  std::vector<std::size_t> index;  ///< per old element: its index in `line`, or `none` when it is off
};

/// Everything beyond `element`, an index into the line, is taken off and its tip-side end is blocked. The element keeps
/// its own leaks. `topology` is that of the line.
/// In a loop: what is fed from the other side of a merged end stays and goes on from there; what hangs on the capped
/// end alone goes. A nozzle is capped by blocking its tip, which is a state and not a change of the line: it comes back
/// as it is.
Capped cap(const Line& line, const Topology& topology, std::size_t element);

/// As cap(), but the element itself is off too: the place where it started is blocked instead.
/// `element` must not be a source.
Capped without(const Line& line, const Topology& topology, std::size_t element);

/// As without(), of several elements at once; one that goes with another is no mistake. None of them a source.
Capped without(const Line& line, const Topology& topology, std::span<const std::size_t> elements);

/// cap(), of what is left of a line; `element` is one of the whole line; throws DomainError where it is off. The index
/// is that of the whole.
Capped cap(const Capped& left, std::size_t element);

/// The element no longer leaks.
void seal(Element& element);

/// Air passes the element without a drop, either way. What it holds, what its walls give to the air, and the shape of
/// the line stay: a hose as wide as the room would not hold the room.
void clear_way(Element& element);

/// The line with its part's gap exact, at the wide end of its tolerance: the worst that the file allows. The line as it
/// is where it has no part or is sure of the gap.
Line at_widest_gap(const Line& line);

/// Whether air loses pressure in it at all: not in places, sources and what is bored out.
bool restricts(const Element& element);

/// Volume of the bore itself [m3] at its middle values; 0 for elements without one.
double bore_volume(const Element& element);

}  // namespace airtally::line
