#pragma once
#include "line/element.hpp"
#include "report/page/markup.hpp"

namespace airtally::report::page {

/// Half the length of line that every symbol takes [px]: it runs from (-half, 0) on the pump's side to (half, 0).
inline constexpr double symbol_half = 26.0;

/// The graphic symbol of an element, centred on the origin, after ISO 1219-1 (graphic symbols for fluid power; drawn
/// from memory of that standard, in the proportions that suit a page). Spindle, nozzle, plug and part have none there
/// that suits; theirs are our own.
void draw_symbol(Markup& out, const line::Element& element);

/// A gauge on a short stem that ends at the origin.
void draw_gauge(Markup& out);

/// What each kind's symbol shows, for the key below the picture.
std::string_view symbol_words(const line::Element& element);

}  // namespace airtally::report::page
