#include "support/lines.hpp"

#include "gas/air.hpp"

namespace airtally::support {

using line::Kind;

double free_litres(double litres_per_minute) { return litres_per_minute / 60e3 * gas::free_air_density; }

line::Element& Builder::add(std::string name, Kind kind) {
  line::Element e;
  e.name = std::move(name);
  e.kind = kind;
  line.elements.push_back(std::move(e));
  return line.elements.back();
}

Builder& Builder::pump(std::string name, std::vector<std::pair<double, double>> points, double volume) {
  line::Element& e = add(std::move(name), Kind::pump);
  e.volume = volume;
  e.pump.emplace();
  for (const auto& [vacuum, litres] : points) e.pump->flow.push_back({vacuum, free_litres(litres)});
  return *this;
}

Builder& Builder::tube(std::string name, double bore, double length, Kind kind) {
  add(std::move(name), kind).restriction = line::Bore{bore, length};
  return *this;
}

Builder& Builder::valve(std::string name, double c, double b, line::ValveState state) {
  line::Element& e = add(std::move(name), Kind::valve);
  e.restriction = line::Iso{c * 1e-8, b};
  e.valve.emplace();
  e.valve->state = state;
  return *this;
}

Builder& Builder::check_valve(std::string name, double c, double cracking) {
  line::Element& e = add(std::move(name), Kind::check_valve);
  e.restriction = line::Iso{c * 1e-8, 0.35};
  e.cracking = cracking;
  return *this;
}

Builder& Builder::filter(std::string name, double litres, double drop) {
  add(std::move(name), Kind::filter).restriction = line::RatedDrop{free_litres(litres), drop};
  return *this;
}

Builder& Builder::trap(std::string name, double litres, double drop, double bowl) {
  line::Element& element = add(std::move(name), Kind::trap);
  element.restriction = line::RatedDrop{free_litres(litres), drop};
  element.volume = bowl;
  return *this;
}

Builder& Builder::tee(std::string name, double volume) {
  add(std::move(name), Kind::tee).volume = volume;
  return *this;
}

Builder& Builder::reservoir(std::string name, double volume) {
  add(std::move(name), Kind::reservoir).volume = volume;
  return *this;
}

Builder& Builder::nozzle(std::string name, double bore, double length, double rim) {
  line::Element& e = add(std::move(name), Kind::nozzle);
  e.restriction = line::Bore{bore, length};
  e.rim = rim;
  return *this;
}

Builder& Builder::plug(std::string name) {
  add(std::move(name), Kind::plug);
  return *this;
}

Builder& Builder::after(std::string name) {
  line.elements.back().after = std::move(name);
  return *this;
}

Builder& Builder::joins(std::string name) {
  line.elements.back().joins = std::move(name);
  return *this;
}

Builder& Builder::leak(line::Leak leak) {
  line.elements.back().leaks.push_back(std::move(leak));
  return *this;
}

Builder& Builder::volume(double volume) {
  line.elements.back().volume = volume;
  return *this;
}

Builder& Builder::gauge() {
  line.elements.back().gauge = line::Gauge{500.0, 100.0, {}, {}, {}};
  return *this;
}

Builder& Builder::vent(double c, double blow_off) {
  line::Vent vent{{c * 1e-8, 0.35}, {}};
  if (blow_off > 0.0) vent.blow_off = blow_off;
  line.elements.back().valve->vent = vent;
  return *this;
}

Builder& Builder::part(double mass, double gap, double porosity_litres) {
  line.part.emplace();
  line.part->name = "part";
  line.part->mass = mass;
  line.part->gap = gap;
  if (porosity_litres > 0.0) line.part->porosity = line::RatedLeak{free_litres(porosity_litres), 60e3};
  return *this;
}

line::Leak hole(double diameter) { return line::Hole{diameter}; }

line::Leak clearance(double gap, double diameter, double length, double eccentricity) {
  return line::Clearance{gap, diameter, length, eccentricity};
}

line::Leak rated(double litres, bool orifice) { return line::RatedLeak{free_litres(litres), 60e3, orifice}; }

line::Line jewel_setter() {
  Builder b;
  b.pump("pump", {{0, 8}, {30e3, 4.6}, {60e3, 1.1}, {71e3, 0}}, 6e-6)
      .tube("supply hose", 4e-3, 0.8)
      .leak(hole(0.08e-3))
      .tee("gauge tee", 0.4e-6)
      .gauge()
      .valve("valve", 0.30)
      .volume(0.2e-6)
      .filter("filter", 6, 2e3)
      .volume(1e-6)
      .tube("head hose", 2.5e-3, 0.35)
      .tube("rotary joint", 2e-3, 22e-3, Kind::rotary)
      .leak(clearance(35e-6, 5e-3, 4e-3, 0.5))
      .tube("spindle", 1.6e-3, 60e-3, Kind::spindle)
      .nozzle("nozzle", 1e-3, 6e-3, 1.8e-3)
      .part(12e-6, 4e-6);
  return b.line;
}

line::Line eight_nozzles() {
  Builder b;
  b.pump("pump", {{0, 30}, {40e3, 15}, {85e3, 0}}, 20e-6).tube("main hose", 8e-3, 1.2).tee("manifold 1", 3e-6).gauge();
  for (int i = 1; i <= 8; ++i) {
    const std::string n = std::to_string(i);
    if (i > 1) b.tube("bar " + n, 6e-3, 30e-3).after("manifold " + std::to_string(i - 1)).tee("manifold " + n, 0.5e-6);
    b.tube("needle " + n, 1.2e-3, 40e-3).after("manifold " + n).nozzle("nozzle " + n, 0.5e-3, 8e-3, 0.9e-3);
    if (i == 3) b.leak(rated(0.02));
    if (i == 6) b.leak(hole(0.15e-3));
  }
  b.part(2e-6, 15e-6, 0.005);
  return b.line;
}

line::Line two_spindles() {
  Builder b;
  b.pump("pump a", {{0, 12}, {80e3, 0}}, 5e-6)
      .check_valve("check a", 0.8, 1500)
      .reservoir("reservoir", 200e-6)
      .pump("pump b", {{0, 5}, {30e3, 3}, {65e3, 0}}, 3e-6)
      .tube("hose b", 4e-3, 0.5)
      .joins("reservoir");
  for (const char* side : {"left", "right"}) {
    const std::string s = std::string(" ") + side;
    b.valve("valve" + s, 0.25)
        .after("reservoir")
        .tube("hose" + s, 3e-3, 0.6)
        .tube("joint" + s, 1.5e-3, 20e-3, Kind::rotary)
        .leak(clearance(side[0] == 'l' ? 20e-6 : 45e-6, 4e-3, 5e-3, 0.8))
        .nozzle("nozzle" + s, 0.8e-3, 5e-3, 1.5e-3);
  }
  b.part(20e-6, 6e-6);
  return b.line;
}

line::Line ring() {
  Builder b;
  b.pump("pump", {{0, 10}, {75e3, 0}}, 4e-6)
      .tee("fork", 0.3e-6)
      .tube("short way", 2e-3, 0.2)
      .tee("short middle")
      .tube("short end", 2e-3, 0.1)
      .leak(hole(0.1e-3))
      .tube("long way", 3e-3, 0.8)
      .after("fork")
      .tee("long middle")
      .tube("long end", 3e-3, 0.5)
      .joins("short end")
      .tube("bridge", 1e-3, 50e-3)
      .after("short middle")
      .joins("long middle")
      .leak(rated(0.05))
      .tube("stem", 2e-3, 50e-3)
      .after("short end")
      .nozzle("nozzle", 0.9e-3, 4e-3, 1.6e-3)
      .part(5e-6, 8e-6);
  return b.line;
}

line::Line thin_choked() {
  Builder b;
  b.pump("pump", {{0, 60}, {97e3, 0}}, 10e-6)
      .tube("thin tube", 0.8e-3, 30e-3)
      .tube("wide tube", 6e-3, 0.3)
      .leak(hole(0.7e-3))
      .nozzle("nozzle", 3e-3, 10e-3, 5e-3)
      .part(1e-3, 40e-6);
  return b.line;
}

line::Line blow_off() {
  Builder b;
  b.pump("pump", {{0, 15}, {50e3, 6}, {80e3, 0}}, 8e-6)
      .tube("hose", 4e-3, 1.0)
      .tee("tee", 0.5e-6)
      .valve("valve 1", 0.3)
      .vent(0.2, 30e3)
      .tube("tube 1", 2.5e-3, 0.3)
      .nozzle("nozzle 1", 1e-3, 5e-3, 2e-3)
      .valve("valve 2", 0.3, 0.35, line::ValveState::vent)
      .after("tee")
      .vent(0.2, 30e3)
      .tube("tube 2", 2.5e-3, 0.3)
      .leak(hole(0.1e-3))
      .nozzle("nozzle 2", 1e-3, 5e-3, 2e-3)
      .part(10e-6, 10e-6);
  return b.line;
}

line::Line capillaries() {
  Builder b;
  b.pump("pump", {{0, 2}, {60e3, 0.5}, {90e3, 0}}, 2e-6)
      .tube("capillary 1", 0.6e-3, 0.2)
      .tee("tee", 5e-6)
      .tube("capillary 2", 0.5e-3, 0.3)
      .leak(rated(0.03))
      .nozzle("nozzle 1", 0.3e-3, 20e-3, 0.8e-3)
      .tube("capillary 3", 0.4e-3, 0.1)
      .after("tee")
      .leak(rated(0.01))
      .nozzle("nozzle 2", 0.2e-3, 20e-3, 0.8e-3)
      .part(1e-6, 5e-6);
  return b.line;
}

std::vector<Named> all_lines() {
  return {{"jewel setter", jewel_setter()}, {"eight nozzles", eight_nozzles()},
          {"two spindles", two_spindles()}, {"ring", ring()},
          {"thin choked", thin_choked()},   {"blow off", blow_off()},
          {"capillaries", capillaries()}};
}

}  // namespace airtally::support
