#include "report/page/symbols.hpp"

#include <fmt/format.h>

namespace airtally::report::page {
namespace {

class Pen {
 public:
  explicit Pen(Markup& out) : out_(out) {}
  void path(std::string_view d, std::string_view kind = "ink") {
    out_.leaf("path", {{"d", std::string(d)}, {"class", std::string(kind)}});
  }
  void circle(double x, double y, double r, std::string_view kind = "ink") {
    out_.leaf("circle", {{"cx", number(x)}, {"cy", number(y)}, {"r", number(r)}, {"class", std::string(kind)}});
  }
  /// The line on both sides of a symbol that is `half` long each way.
  void ends(double half) { path(fmt::format("M-26 0H{}M{} 0H26", number(-half), number(half))); }

 private:
  Markup& out_;
};

/// Circle with an open triangle (gas) that points out of the line; a shaft to its motor.
void pump(Pen& pen) {
  pen.path("M14 0H26");
  pen.circle(0, 0, 14, "body");
  pen.path("M-13 0L-4 -7V7Z", "open");
  pen.path("M-2.5 -13.8V-20M2.5 -13.8V-20");
  pen.path("M-5 -20H5");
}

/// Two nozzles in a row in a frame: driven air enters above and leaves on the left.
void ejector(Pen& pen) {
  pen.path("M16 0H26");
  pen.path("M-16 -12H16V12H-16Z", "body");
  pen.path("M0 -20V-12M-4 -12L-2 -4H2L4 -12M-12 7L-3 2M-12 -7L-3 -2", "ink");
  pen.path("M16 0H6M-16 0H-26");
}

/// A flexible line hangs between two dots.
void hose(Pen& pen) {
  pen.path("M-26 0H-18M18 0H26");
  pen.path("M-18 0C-10 15 10 15 18 0");
  pen.circle(-18, 0, 2.4, "dot");
  pen.circle(18, 0, 2.4, "dot");
}

/// A hollow shaft: two walls, and the arrow of a turning shaft. Our own sign.
void spindle(Pen& pen) {
  pen.path("M-26 0H26");
  pen.path("M-20 -6H20M-20 6H20", "thin");
  pen.path("M-5 -12C-1 -17 6 -15 7 -9M7 -9L3.5 -11.5M7 -9L9.8 -12.5", "thin");
}

/// Two halves of a coupling that meet.
void coupler(Pen& pen) {
  pen.path("M-26 0H26");
  pen.path("M-9 -7L-2 0L-9 7M9 -7L2 0L9 7");
}

/// A line that goes on through a ring in a ring: it may turn.
void rotary(Pen& pen) {
  pen.ends(11);
  pen.circle(0, 0, 11, "body");
  pen.circle(0, 0, 5);
  pen.path("M-11 0H-5M5 0H11");
}

/// Two positions, one above the other; the lower one is at work. Coil above, spring below.
void valve(Pen& pen, const line::Valve& v) {
  const bool closed = v.state != line::ValveState::open;
  pen.ends(12);
  pen.path("M-12 -12H12V12H-12Z", "body");
  pen.path("M-12 -36H12V-12H-12Z", "body");
  const double through = closed ? -24 : 0, shut = closed ? 0 : -24;
  const std::string way = fmt::format("M12 {0}H-12M-12 {0}L-6 {1}M-12 {0}L-6 {2}", number(through),
                                      number(through - 3.5), number(through + 3.5));
  pen.path(way, "thin");
  pen.path(fmt::format("M-12 {0}H-7M-7 {1}V{2}", number(shut), number(shut - 4), number(shut + 4)), "thin");
  if (v.vent)  // three ports: the line is let to the room
    pen.path(
        fmt::format("M12 {0}L3 {0}L3 {1}M3 {1}L0 {2}M3 {1}L6 {2}", number(shut), number(shut + 11), number(shut + 6)),
        "thin");
  else
    pen.path(fmt::format("M12 {0}H7M7 {1}V{2}", number(shut), number(shut - 4), number(shut + 4)), "thin");
  pen.path("M-7 -36V-44H7V-36M-7 -37L7 -43", "thin");
  pen.path("M-6 12L-3 19L0 12L3 19L6 12", "thin");
}

/// A square on its corner with a dashed line across the flow.
void filter(Pen& pen) {
  pen.ends(14);
  pen.path("M-14 0L0 -14L14 0L0 14Z", "body");
  pen.path("M0 -14V14", "dash");
}

/// A filter's square with the level of what it caught, and the drain below.
void trap(Pen& pen) {
  pen.ends(14);
  pen.path("M-14 0L0 -14L14 0L0 14Z", "body");
  pen.path("M-6 8H6M0 14V19");
}

/// A ball on its seat, held by a spring where it takes pressure to open.
void check_valve(Pen& pen, bool spring) {
  pen.ends(8);
  pen.path("M8 -9L-3 0L8 9");  // air leaves towards the pump
  pen.circle(-4, 0, 5, "body");
  pen.path("M-8 0H-26M8 0H26");
  if (spring) pen.path("M-9 0L-11 -5L-13 5L-15 -5L-17 5L-18 0", "thin");
}

void tee(Pen& pen) {
  pen.path("M-26 0H26");
  pen.circle(0, 0, 3.4, "dot");
}

void reservoir(Pen& pen) {
  pen.ends(20);
  pen.path("M-11 -9H11A9 9 0 0 1 11 9H-11A9 9 0 0 1 -11 -9Z", "body");
}

void plug(Pen& pen) {
  pen.path("M-26 0H8");
  pen.path("M8 -8V8M8 -8L14 -2M8 0L14 6", "ink");
}

/// A mouth that narrows. Our own sign.
void nozzle(Pen& pen) {
  pen.path("M-26 0H-12");
  pen.path("M-12 -10L14 -5V5L-12 10Z", "body");
}

}  // namespace

void draw_symbol(Markup& out, const line::Element& element) {
  Pen pen(out);
  using line::Kind;
  switch (element.kind) {
    case Kind::pump:
      return pump(pen);
    case Kind::ejector:
      return ejector(pen);
    case Kind::tube:
      return hose(pen);
    case Kind::spindle:
      return spindle(pen);
    case Kind::coupler:
      return coupler(pen);
    case Kind::rotary:
      return rotary(pen);
    case Kind::nozzle:
      return nozzle(pen);
    case Kind::valve:
      return valve(pen, element.valve.value_or(line::Valve{}));
    case Kind::filter:
      return filter(pen);
    case Kind::trap:
      return trap(pen);
    case Kind::check_valve:
      return check_valve(pen, element.cracking.has_value());
    case Kind::tee:
      return tee(pen);
    case Kind::reservoir:
      return reservoir(pen);
    case Kind::plug:
      return plug(pen);
  }
}

void draw_gauge(Markup& out) {
  Pen pen(out);
  pen.path("M0 0V-14");
  pen.circle(0, -25, 11, "body");
  pen.path("M-5 -20L5 -30M5 -30L0.5 -29M5 -30L4 -25.5", "thin");
}

std::string_view symbol_words(const line::Element& element) {
  using line::Kind;
  switch (element.kind) {
    case Kind::pump:
      return "circle with a triangle: vacuum pump";
    case Kind::ejector:
      return "frame with two nozzles: ejector";
    case Kind::tube:
      return "sagging line between dots: hose or tube";
    case Kind::spindle:
      return "line between walls: hollow spindle";
    case Kind::coupler:
      return "two tips that meet: coupler";
    case Kind::rotary:
      return "ring in a ring: rotary joint";
    case Kind::nozzle:
      return "narrowing mouth: nozzle";
    case Kind::valve:
      return element.valve && element.valve->vent ? "two squares: 3/2 valve, the lower square at work"
                                                  : "two squares: 2/2 valve, the lower square at work";
    case Kind::filter:
      return "square on its corner: filter";
    case Kind::trap:
      return "square on its corner with a level and a drain: trap";
    case Kind::check_valve:
      return "ball on a seat: check valve";
    case Kind::tee:
      return "dot: tee or manifold";
    case Kind::reservoir:
      return "capsule: reservoir";
    case Kind::plug:
      return "closed end: plug";
  }
  return "";
}

}  // namespace airtally::report::page
