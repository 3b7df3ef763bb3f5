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
  Value(double si) : quantity_(si) {}                                  // NOLINT: made to convert
  Value(const units::Quantity& si) : quantity_(si) {}                  // NOLINT: made to convert
  Value(const char* text) : text_(text), is_text_(true) {}             // NOLINT: made to convert
  Value(std::string text) : text_(std::move(text)), is_text_(true) {}  // NOLINT: made to convert

  /// In SI. Throws BadInput when the text is no quantity of the dimension.
  units::Quantity as(units::Dimension dimension) const;

 private:
  units::Quantity quantity_;
  std::string text_;
  bool is_text_ = false;
};

/// Describes a line in code, from the pump to the nozzle. Each element starts where the one before it ends unless
/// after() says otherwise. Numbers are SI (metres, pascals below ambient, kg/s); texts have their unit, and flows in
/// litres are free air. Values aren't held against the limits that a line file has; build() checks the line as a graph.
///
///   const line::Line bench = line::Builder("A bench")
///                                .pump("pump", {{"0 kPa", "8 L/min"}, {"71 kPa", "0 L/min"}})
///                                .tube("hose", "2.5 mm", "0.8 m").leak_rated("900 mL/min", "60 kPa")
///                                .nozzle("nozzle", "1 mm", "6 mm", "1.8 mm")
///                                .build();
class Builder {
 public:
  /// A point of a pump's curve: vacuum, and free-air flow.
  using Curve = std::vector<std::pair<Value, Value>>;

  explicit Builder(std::string title = "");

  /// Where it stands: altitude [m], in the standard atmosphere; 20 C.
  Builder& altitude(const Value& altitude);

  /// A pump; its curve has rising vacuum and falls to no flow at its last point.
  Builder& pump(std::string name, const Curve& curve);
  /// An ejector; the curve is that of its suction side.
  Builder& ejector(std::string name, const Curve& curve);
  /// Bores [m].
  Builder& tube(std::string name, const Value& bore, const Value& length);
  Builder& spindle(std::string name, const Value& bore, const Value& length);
  Builder& coupler(std::string name, const Value& bore, const Value& length);
  Builder& rotary(std::string name, const Value& bore, const Value& length);
  /// `rim` is the outer diameter of its mouth [m].
  Builder& nozzle(std::string name, const Value& bore, const Value& length, const Value& rim);
  /// C [m3/(s Pa)] and b of ISO 6358; open.
  Builder& valve(std::string name, const Value& conductance, const Value& critical_ratio = 0.35);
  /// `cracking` is the drop at which it opens [Pa].
  Builder& check_valve(std::string name, const Value& conductance, const Value& cracking = 0.0);
  /// Its drop [Pa] at one flow [kg/s].
  Builder& filter(std::string name, const Value& flow, const Value& drop);
  /// Places; `volume` [m3].
  Builder& tee(std::string name, const Value& volume = 0.0);
  Builder& reservoir(std::string name, const Value& volume);
  Builder& plug(std::string name);
  /// Any element, as it is.
  Builder& element(Element element);

  // Of the element added last; each throws std::logic_error when there is none.
  /// Starts at the tip-side end of the element of that name.
  Builder& after(std::string name);
  /// Its tip-side end is that of the element of that name.
  Builder& joins(std::string name);
  /// Volume beyond its bore's own [m3].
  Builder& volume(const Value& volume);
  /// A gauge [Pa].
  Builder& gauge(const Value& accuracy, const Value& resolution = 0.0);
  /// A hole of that diameter [m].
  Builder& leak_hole(const Value& diameter);
  /// A ring around a shaft: radial gap, diameter, length [m], eccentricity 0 to 1.
  Builder& leak_clearance(const Value& gap, const Value& diameter, const Value& length,
                          const Value& eccentricity = 0.0);
  /// As measured: flow [kg/s] at a vacuum [Pa].
  Builder& leak_rated(const Value& flow, const Value& at);

  /// What is picked: mass [kg], gap between it and the rim [m].
  Builder& part(const Value& mass, const Value& gap = 0.0);

  /// The line. Throws BadInput with everything that does not hang together.
  Line build() const;

 private:
  Element& add(std::string name, Kind kind);
  Element& last();
  Builder& bore(std::string name, Kind kind, const Value& bore, const Value& length);
  Builder& source(std::string name, Kind kind, const Curve& curve);

  Line line_;
};

}  // namespace airtally::line
