#include "line/builder.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "errors.hpp"
#include "line/topology.hpp"
#include "units/parse.hpp"

namespace airtally::line {

using units::Dimension;

units::Quantity Value::as(Dimension dimension) const {
  if (!is_text_) return quantity_;
  try {
    return units::parse(text_, dimension);
  } catch (const units::UnitError& error) {
    throw BadInput(Position{}, fmt::format("'{}': {}", text_, error.what()));
  }
}

Builder::Builder(std::string title) { line_.title = std::move(title); }

Builder& Builder::altitude(const Value& altitude) {
  line_.site.pressure = gas::pressure_at_altitude(altitude.as(Dimension::length).value);
  return *this;
}

Element& Builder::add(std::string name, Kind kind) {
  Element element;
  element.name = std::move(name);
  element.kind = kind;
  line_.elements.push_back(std::move(element));
  return line_.elements.back();
}

Element& Builder::last() {
  if (line_.elements.empty()) throw std::logic_error("a property was given before the first element");
  return line_.elements.back();
}

Builder& Builder::source(std::string name, Kind kind, const Curve& curve) {
  Pump pump;
  pump.flow.reserve(curve.size());
  for (const auto& [vacuum, flow] : curve)
    pump.flow.push_back({vacuum.as(Dimension::pressure), flow.as(Dimension::flow)});
  add(std::move(name), kind).pump = std::move(pump);
  return *this;
}

Builder& Builder::pump(std::string name, const Curve& curve) { return source(std::move(name), Kind::pump, curve); }
Builder& Builder::ejector(std::string name, const Curve& curve) {
  return source(std::move(name), Kind::ejector, curve);
}

Builder& Builder::bore(std::string name, Kind kind, const Value& bore, const Value& length) {
  add(std::move(name), kind).restriction = Bore{bore.as(Dimension::length), length.as(Dimension::length)};
  return *this;
}

Builder& Builder::tube(std::string name, const Value& bore, const Value& length) {
  return this->bore(std::move(name), Kind::tube, bore, length);
}
Builder& Builder::spindle(std::string name, const Value& bore, const Value& length) {
  return this->bore(std::move(name), Kind::spindle, bore, length);
}
Builder& Builder::coupler(std::string name, const Value& bore, const Value& length) {
  return this->bore(std::move(name), Kind::coupler, bore, length);
}
Builder& Builder::rotary(std::string name, const Value& bore, const Value& length) {
  return this->bore(std::move(name), Kind::rotary, bore, length);
}
Builder& Builder::nozzle(std::string name, const Value& bore, const Value& length, const Value& rim) {
  this->bore(std::move(name), Kind::nozzle, bore, length);
  last().rim = rim.as(Dimension::length);
  return *this;
}

Builder& Builder::valve(std::string name, const Value& conductance, const Value& critical_ratio) {
  Element& element = add(std::move(name), Kind::valve);
  element.restriction = Iso{conductance.as(Dimension::conductance), critical_ratio.as(Dimension::number)};
  element.valve.emplace();
  return *this;
}

Builder& Builder::check_valve(std::string name, const Value& conductance, const Value& cracking) {
  Element& element = add(std::move(name), Kind::check_valve);
  element.restriction = Iso{conductance.as(Dimension::conductance)};
  element.cracking = cracking.as(Dimension::pressure);
  return *this;
}

Builder& Builder::filter(std::string name, const Value& flow, const Value& drop) {
  add(std::move(name), Kind::filter).restriction = RatedDrop{flow.as(Dimension::flow), drop.as(Dimension::pressure)};
  return *this;
}

Builder& Builder::trap(std::string name, const Value& flow, const Value& drop, const Value& bowl) {
  Element& element = add(std::move(name), Kind::trap);
  element.restriction = RatedDrop{flow.as(Dimension::flow), drop.as(Dimension::pressure)};
  element.volume = bowl.as(Dimension::volume);
  return *this;
}

Builder& Builder::tee(std::string name, const Value& volume) {
  add(std::move(name), Kind::tee).volume = volume.as(Dimension::volume);
  return *this;
}
Builder& Builder::reservoir(std::string name, const Value& volume) {
  add(std::move(name), Kind::reservoir).volume = volume.as(Dimension::volume);
  return *this;
}
Builder& Builder::plug(std::string name) {
  add(std::move(name), Kind::plug);
  return *this;
}
Builder& Builder::element(Element element) {
  line_.elements.push_back(std::move(element));
  return *this;
}

Builder& Builder::after(std::string name) {
  last().after = std::move(name);
  return *this;
}
Builder& Builder::joins(std::string name) {
  last().joins = std::move(name);
  return *this;
}
Builder& Builder::volume(const Value& volume) {
  last().volume = volume.as(Dimension::volume);
  return *this;
}
Builder& Builder::gauge(const Value& accuracy, const Value& resolution) {
  Gauge gauge;
  gauge.accuracy = accuracy.as(Dimension::pressure);
  gauge.resolution = resolution.as(Dimension::pressure);
  last().gauge = gauge;
  return *this;
}

Builder& Builder::leak_hole(const Value& diameter) {
  last().leaks.emplace_back(Hole{diameter.as(Dimension::length)});
  return *this;
}
Builder& Builder::leak_clearance(const Value& gap, const Value& diameter, const Value& length,
                                 const Value& eccentricity) {
  last().leaks.emplace_back(Clearance{gap.as(Dimension::length), diameter.as(Dimension::length),
                                      length.as(Dimension::length), eccentricity.as(Dimension::number)});
  return *this;
}
Builder& Builder::leak_rated(const Value& flow, const Value& at) {
  last().leaks.emplace_back(RatedLeak{flow.as(Dimension::flow), at.as(Dimension::pressure)});
  return *this;
}

Builder& Builder::part(const Value& mass, const Value& gap) {
  Part part;
  part.name = "part";
  part.mass = mass.as(Dimension::mass);
  part.gap = gap.as(Dimension::length);
  line_.part = std::move(part);
  return *this;
}

Line Builder::build() const {
  topology(line_);
  return line_;
}

}  // namespace airtally::line
