#pragma once
#include <string>
#include <utility>
#include <vector>

#include "line/line.hpp"

/// Lines built in code, all invented, each with something of its own that the solvers must cope with.
namespace airtally::support {

/// Litres of free air per minute, as mass flow [kg/s].
double free_litres(double litres_per_minute);

/// Builds a line element by element; each starts at the one before unless after() says otherwise. Lengths in metres,
/// pressures in pascal, flows in litres of free air per minute.
class Builder {
 public:
  Builder& pump(std::string name, std::vector<std::pair<double, double>> vacuum_and_litres, double volume = 0.0);
  Builder& tube(std::string name, double bore, double length, line::Kind kind = line::Kind::tube);
  /// `c` in dm3/(s bar).
  Builder& valve(std::string name, double c, double b = 0.35, line::ValveState state = line::ValveState::open);
  Builder& check_valve(std::string name, double c, double cracking);
  Builder& filter(std::string name, double litres, double drop);
  Builder& trap(std::string name, double litres, double drop, double bowl);
  Builder& tee(std::string name, double volume = 0.0);
  Builder& reservoir(std::string name, double volume);
  Builder& nozzle(std::string name, double bore, double length, double rim);
  Builder& plug(std::string name);
  /// Of the element added last:
  Builder& after(std::string name);
  Builder& joins(std::string name);
  Builder& leak(line::Leak leak);
  Builder& volume(double volume);
  Builder& gauge();
  Builder& vent(double c, double blow_off = 0.0);
  /// Of the line:
  Builder& part(double mass, double gap, double porosity_litres = 0.0);

  line::Line line;

 private:
  line::Element& add(std::string name, line::Kind kind);
};

line::Leak hole(double diameter);
line::Leak clearance(double gap, double diameter, double length, double eccentricity = 0.0);
/// Laminar unless `orifice`; at 60 kPa of vacuum.
line::Leak rated(double litres, bool orifice = false);

line::Line jewel_setter();   ///< one nozzle; a rotary joint with its clearance
line::Line eight_nozzles();  ///< a manifold of tees
line::Line two_spindles();   ///< two pumps, a check valve, a reservoir, valves
line::Line ring();           ///< two ways from pump to nozzle, closed by `joins`, with a bridge between them
line::Line thin_choked();    ///< a strong pump on a bore that chokes
line::Line blow_off();       ///< one of two valves vents and blows off
line::Line capillaries();    ///< laminar throughout

struct Named {
  const char* name;
  line::Line line;
};
/// All of them.
std::vector<Named> all_lines();

}  // namespace airtally::support
