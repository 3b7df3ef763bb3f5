#pragma once
#include <string>
#include <utility>
#include <vector>

#include "line/line.hpp"
#include "units/dimension.hpp"
#include "units/quantity.hpp"

namespace airtally::line {

/// A value as the caller has it: a number in SI, or a text with its unit as a line file has it ("4 mm", "20..45 um").
class Value {
 public:
  /// A number in SI, exact.
  Value(double si) : quantity_(si) {}  // NOLINT: made to convert
  /// A quantity in SI, with its tolerance or range.
  Value(const units::Quantity& si) : quantity_(si) {}  // NOLINT: made to convert
  /// A text with its unit, not null; read when as() asks for it.
  Value(const char* text) : text_(text), is_text_(true) {}  // NOLINT: made to convert
  /// The same.
  Value(std::string text) : text_(std::move(text)), is_text_(true) {}  // NOLINT: made to convert

  /// In SI. A number is taken to be of that dimension. Throws BadInput, without a place, when the text is no quantity
  /// of it.
  units::Quantity as(units::Dimension dimension) const;

 private:
  units::Quantity quantity_;
  std::string text_;
  bool is_text_ = false;
};

/// Describes a line in code, from the pump to the nozzle. Each element starts where the one before it ends unless
/// after() says otherwise. Numbers are SI (metres, pascals below ambient, kg/s); texts have their unit, and flows in
/// litres are free air. Values aren't held against the limits that a line file has (docs/line-format.md); build()
/// checks the line as a graph, and a solve throws DomainError for what no law can be asked. Each function throws
/// BadInput for a text that is no quantity of its kind. Those that add an element take its name, which no other may
/// have.
///
///   const line::Line bench = line::Builder("A bench")
///                                .pump("pump", {{"0 kPa", "8 L/min"}, {"71 kPa", "0 L/min"}})
///                                .tube("hose", "2.5 mm", "0.8 m").leak_rated("900 mL/min", "60 kPa")
///                                .nozzle("nozzle", "1 mm", "6 mm", "1.8 mm")
///                                .build();
class Builder {
 public:
  /// A pump's curve, at least two points: vacuum [Pa], rising, and flow of free air [kg/s], falling to 0 at the last.
  using Curve = std::vector<std::pair<Value, Value>>;

  /// A line without elements at sea level and 20 C; `title` is for people and may be empty.
  explicit Builder(std::string title = "");

  /// Where it stands: altitude [m], -1000 to 11000, in the standard atmosphere; 20 C. Throws DomainError outside.
  Builder& altitude(const Value& altitude);

  /// A pump at its rated supply, with its curve.
  Builder& pump(std::string name, const Curve& curve);
  /// An ejector; the curve is that of its suction side.
  Builder& ejector(std::string name, const Curve& curve);
  /// A smooth tube; bore and length [m] > 0.
  Builder& tube(std::string name, const Value& bore, const Value& length);
  /// A hollow spindle; bore and length [m] > 0.
  Builder& spindle(std::string name, const Value& bore, const Value& length);
  /// A coupler; bore and length [m] > 0.
  Builder& coupler(std::string name, const Value& bore, const Value& length);
  /// A rotary joint; bore and length [m] > 0. Its leak is a leak_clearance() of its own.
  Builder& rotary(std::string name, const Value& bore, const Value& length);
  /// A nozzle; bore and length [m], `rim` the outer diameter of its mouth [m], above the bore.
  Builder& nozzle(std::string name, const Value& bore, const Value& length, const Value& rim);
  /// An open valve without delays: C [m3/(s Pa)] >= 0 and b [-], 0 to 0.95, of ISO 6358.
  Builder& valve(std::string name, const Value& conductance, const Value& critical_ratio = 0.35);
  /// A check valve that passes air towards the pump: C [m3/(s Pa)] >= 0, b 0.35; `cracking` [Pa] >= 0 is the drop at
  /// which it opens.
  Builder& check_valve(std::string name, const Value& conductance, const Value& cracking = 0.0);
  /// A laminar filter: its drop [Pa] > 0 at one flow [kg/s], with one atmosphere upstream.
  Builder& filter(std::string name, const Value& flow, const Value& drop);
  /// A laminar trap: its drop [Pa] > 0 at one flow [kg/s], with one atmosphere upstream, and the volume of its bowl
  /// [m3] > 0.
  Builder& trap(std::string name, const Value& flow, const Value& drop, const Value& bowl);
  /// A place where branches meet; `volume` [m3] >= 0.
  Builder& tee(std::string name, const Value& volume = 0.0);
  /// A place with a volume [m3] >= 0.
  Builder& reservoir(std::string name, const Value& volume);
  /// A closed end.
  Builder& plug(std::string name);
  /// Any element, as it is; nothing is checked before build().
  Builder& element(Element element);

  // Of the element added last; each of these throws std::logic_error when there is none.
  /// Starts at the tip-side end of the element of that name.
  Builder& after(std::string name);
  /// Its tip-side end is that of the element of that name.
  Builder& joins(std::string name);
  /// Volume beyond its bore's own, at its tip-side end [m3] >= 0.
  Builder& volume(const Value& volume);
  /// A gauge at its tip-side end: `accuracy`, two standard deviations that all its readings share, and `resolution`
  /// [Pa] >= 0.
  Builder& gauge(const Value& accuracy, const Value& resolution = 0.0);
  /// A sharp-edged hole of that diameter [m] > 0, discharge coefficient 0.72. As all leaks, at its tip-side end; a
  /// second one is added to the first.
  Builder& leak_hole(const Value& diameter);
  /// A ring around a shaft: radial gap, diameter, length [m] > 0, eccentricity 0 to 1.
  Builder& leak_clearance(const Value& gap, const Value& diameter, const Value& length,
                          const Value& eccentricity = 0.0);
  /// A laminar leak as measured: flow [kg/s] >= 0 at a vacuum [Pa] > 0, less than ambient.
  Builder& leak_rated(const Value& flow, const Value& at);

  /// What is picked: mass [kg] > 0, gap between it and the rim [m] >= 0. A second call replaces it.
  Builder& part(const Value& mass, const Value& gap = 0.0);

  /// The line. Throws BadInput with everything that does not hang together (topology.hpp).
  Line build() const;

 private:
  Element& add(std::string name, Kind kind);
  Element& last();
  Builder& bore(std::string name, Kind kind, const Value& bore, const Value& length);
  Builder& source(std::string name, Kind kind, const Curve& curve);

  Line line_;
};

}  // namespace airtally::line
