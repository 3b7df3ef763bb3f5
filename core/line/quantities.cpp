#include "line/quantities.hpp"

namespace airtally::line {
namespace {

using units::Dimension;
using units::Quantity;

/// The quantities below one name. Names are only put together for who asks for them: a study draws thousands of lines.
class Walk {
 public:
  static constexpr std::size_t no_number = static_cast<std::size_t>(-1);

  Walk(std::string_view owner, const Element* element, const QuantityVisitor* named, const NumberVisitor* plain)
      : key_(owner), element_(element), named_(named), plain_(plain) {}

  void operator()(const char* key, Dimension dimension, Quantity& quantity) const {
    if (named_) {
      QuantityName name;
      put(name);
      name.key += key;
      (*named_)(name, quantity, dimension);
    } else {
      (*plain_)(quantity);
    }
  }
  void operator()(const char* key, Dimension dimension, std::optional<Quantity>& quantity) const {
    if (quantity) (*this)(key, dimension, *quantity);
  }
  /// This walk must outlive that one. `i` from 0, shown from 1.
  Walk below(std::string_view key, std::size_t i = no_number) const {
    Walk walk(key, element_, named_, plain_);
    walk.above_ = this;
    walk.number_ = i;
    return walk;
  }

 private:
  void put(QuantityName& name) const {
    if (!above_) {
      name.owner = key_;
      name.element = element_;
      return;
    }
    above_->put(name);
    name.key += key_;
    if (number_ != no_number) name.key += '[' + std::to_string(number_ + 1) + ']';
    name.key += '.';
  }

  std::string_view key_;
  std::size_t number_ = no_number;
  const Element* element_;
  const Walk* above_ = nullptr;
  const QuantityVisitor* named_;
  const NumberVisitor* plain_;
};

void visit_bore(const Walk& walk, Bore& bore) {
  walk("bore", Dimension::length, bore.bore);
  walk("length", Dimension::length, bore.length);
  walk("roughness", Dimension::length, bore.roughness);
  walk("loss", Dimension::number, bore.loss);
}

void visit_iso(const Walk& walk, Iso& iso) {
  walk("conductance", Dimension::conductance, iso.conductance);
  walk("critical-ratio", Dimension::number, iso.critical_ratio);
}

void visit_rated(const Walk& walk, RatedLeak& leak) {
  walk("rated", Dimension::flow, leak.flow);
  walk("at", Dimension::pressure, leak.at);
}

void visit_leak(const Walk& walk, Leak& leak) {
  if (auto* hole = std::get_if<Hole>(&leak)) {
    walk("hole", Dimension::length, hole->diameter);
    walk("discharge", Dimension::number, hole->discharge);
  } else if (auto* clearance = std::get_if<Clearance>(&leak)) {
    walk("clearance", Dimension::length, clearance->gap);
    walk("diameter", Dimension::length, clearance->diameter);
    walk("length", Dimension::length, clearance->length);
    walk("eccentricity", Dimension::number, clearance->eccentricity);
  } else {
    visit_rated(walk, std::get<RatedLeak>(leak));
  }
}

void visit_restriction(const Walk& walk, Restriction& restriction) {
  if (auto* bore = std::get_if<Bore>(&restriction)) visit_bore(walk, *bore);
  if (auto* iso = std::get_if<Iso>(&restriction)) visit_iso(walk, *iso);
  if (auto* rated = std::get_if<RatedDrop>(&restriction)) {
    const Walk inside = walk.below("rated");
    inside("flow", Dimension::flow, rated->flow);
    inside("drop", Dimension::pressure, rated->drop);
  }
}

void visit_curve(const Walk& walk, std::string_view key, const char* value, Dimension dimension,
                 std::vector<CurvePoint>& points) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Walk point = walk.below(key, i);
    point("vacuum", Dimension::pressure, points[i].vacuum);
    point(value, dimension, points[i].value);
  }
}

void visit_pump(const Walk& walk, Pump& pump) {
  visit_curve(walk, "curve", "flow", Dimension::flow, pump.flow);
  visit_curve(walk, "current", "current", Dimension::current, pump.current);
  walk("speed", Dimension::number, pump.speed);
  walk("back-leak", Dimension::conductance, pump.back_leak);
  walk.below("ripple")("frequency", Dimension::frequency, pump.ripple_frequency);
  walk.below("ripple")("peak-to-peak", Dimension::pressure, pump.ripple_peak_to_peak);
  walk("supply", Dimension::pressure, pump.supply);
  walk("consumption", Dimension::flow, pump.consumption);
}

void visit_valve(const Walk& walk, Valve& valve) {
  walk("opens", Dimension::time, valve.opens);
  walk("closes", Dimension::time, valve.closes);
  walk("ramp", Dimension::time, valve.ramp);
  if (!valve.vent) return;
  const Walk vent = walk.below("vent");
  visit_iso(vent, valve.vent->path);
  vent.below("blow-off")("pressure", Dimension::pressure, valve.vent->blow_off);
}

void visit_gauge(const Walk& walk, Gauge& gauge) {
  walk("accuracy", Dimension::pressure, gauge.accuracy);
  walk("resolution", Dimension::pressure, gauge.resolution);
  walk("range", Dimension::pressure, gauge.range);
  if (gauge.tube) visit_bore(walk.below("tube"), *gauge.tube);
  walk("volume", Dimension::volume, gauge.volume);
}

void visit_element(const Walk& walk, Element& element) {
  visit_restriction(walk, element.restriction);
  for (std::size_t i = 0; i < element.leaks.size(); ++i)
    visit_leak(walk.below("leak", element.leaks.size() == 1 ? Walk::no_number : i), element.leaks[i]);
  walk("volume", Dimension::volume, element.volume);
  if (element.gauge) visit_gauge(walk.below("gauge"), *element.gauge);
  if (element.pump) visit_pump(walk, *element.pump);
  if (element.valve) visit_valve(walk, *element.valve);
  walk("cracking", Dimension::pressure, element.cracking);
  walk("rim", Dimension::length, element.rim);
  walk("spacing", Dimension::length, element.spacing);
  walk("wall", Dimension::length, element.wall);
  walk("modulus", Dimension::pressure, element.modulus);
}

void visit_part(const Walk& walk, Part& part) {
  walk("mass", Dimension::mass, part.mass);
  walk("gap", Dimension::length, part.gap);
  if (part.porosity) visit_rated(walk.below("porosity"), *part.porosity);
  walk("length", Dimension::length, part.length);
  walk("width", Dimension::length, part.width);
  walk("height", Dimension::length, part.height);
}

void visit_move(const Walk& walk, Move& move) {
  walk("lift", Dimension::acceleration, move.lift);
  walk("travel", Dimension::acceleration, move.travel);
  walk("spin", Dimension::angular_speed, move.spin);
  walk("spin-up", Dimension::angular_acceleration, move.spin_up);
  walk("offset", Dimension::length, move.offset);
  walk("friction", Dimension::number, move.friction);
  walk.below("safety")("lift", Dimension::number, move.lift_safety);
  walk.below("safety")("side", Dimension::number, move.side_safety);
}

void visit_cycle(const Walk& walk, Cycle& cycle) {
  walk("valve-on", Dimension::time, cycle.valve_on);
  walk("approach-height", Dimension::length, cycle.approach_height);
  walk("approach-speed", Dimension::speed, cycle.approach_speed);
  walk("touch", Dimension::time, cycle.touch);
  walk("lift", Dimension::time, cycle.lift);
  walk("travel", Dimension::time, cycle.travel);
  walk("place", Dimension::time, cycle.place);
  walk("release", Dimension::time, cycle.release);
  walk("vent-time", Dimension::time, cycle.vent_time);
  walk("retract", Dimension::time, cycle.retract);
  walk("period", Dimension::time, cycle.period);
  walk("pump-off", Dimension::time, cycle.pump_off);
  for (std::size_t i = 0; i < cycle.heads.size(); ++i)
    walk.below("head", i)("delay", Dimension::time, cycle.heads[i].delay);
}

void visit_switch(const Walk& walk, VacuumSwitch& ready_made) {
  walk("on", Dimension::pressure, ready_made.on);
  walk("hysteresis", Dimension::pressure, ready_made.hysteresis);
  walk("response", Dimension::time, ready_made.response);
}

void visit_chain(const Walk& walk, Sensor& sensor) {
  const Walk amplifier = walk.below("amplifier");
  amplifier("gain", Dimension::number, sensor.amplifier.gain);
  amplifier("resistor-tolerance", Dimension::number, sensor.amplifier.resistor_tolerance);
  amplifier("input-resistor", Dimension::resistance, sensor.amplifier.input_resistor);
  amplifier("offset", Dimension::voltage, sensor.amplifier.offset);
  amplifier("rejection", Dimension::number, sensor.amplifier.rejection);
  amplifier("noise", Dimension::voltage, sensor.amplifier.noise);
  amplifier("bias", Dimension::voltage, sensor.amplifier.bias);
  amplifier("rail-low", Dimension::voltage, sensor.amplifier.rail_low);
  amplifier("rail-high", Dimension::voltage, sensor.amplifier.rail_high);
  const Walk adc = walk.below("adc");
  adc("bits", Dimension::number, sensor.adc.bits);
  adc("reference", Dimension::voltage, sensor.adc.reference);
  adc("rate", Dimension::frequency, sensor.adc.rate);
  adc("average", Dimension::number, sensor.adc.average);
  adc("noise", Dimension::number, sensor.adc.noise);
}

void visit_sensor(const Walk& walk, Sensor& sensor) {
  if (sensor.tube) {
    walk.below("tube")("bore", Dimension::length, sensor.tube->bore);
    walk.below("tube")("length", Dimension::length, sensor.tube->length);
  }
  walk("volume", Dimension::volume, sensor.volume);
  if (!sensor.ready_made) {
    walk("range", Dimension::pressure, sensor.range);
    walk("span", Dimension::voltage, sensor.span);
    walk("excitation", Dimension::voltage, sensor.excitation);
    walk("zero", Dimension::voltage, sensor.zero);
    walk("resistance", Dimension::resistance, sensor.resistance);
  }
  walk("accuracy", Dimension::pressure, sensor.accuracy);
  walk("noise", Dimension::pressure, sensor.noise);
  walk("allowed", Dimension::number, sensor.allowed);
  if (sensor.ready_made)
    visit_switch(walk.below("switch"), *sensor.ready_made);
  else
    visit_chain(walk, sensor);
}

void visit_all(Line& line, const QuantityVisitor* named, const NumberVisitor* plain) {
  for (Element& element : line.elements) visit_element(Walk(element.name, &element, named, plain), element);
  if (line.part) visit_part(Walk("part", nullptr, named, plain), *line.part);
  if (line.move) visit_move(Walk("move", nullptr, named, plain), *line.move);
  if (line.cycle) visit_cycle(Walk("cycle", nullptr, named, plain), *line.cycle);
  if (line.sensor) visit_sensor(Walk("sensor", nullptr, named, plain), *line.sensor);
}

}  // namespace

void each_quantity(Line& line, const QuantityVisitor& visit) { visit_all(line, &visit, nullptr); }

void each_number(Line& line, const NumberVisitor& visit) { visit_all(line, nullptr, &visit); }

}  // namespace airtally::line
