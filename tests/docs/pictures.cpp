#include <cmath>
#include <functional>

#include "docs/picture.hpp"
#include "gas/air.hpp"
#include "gas/site.hpp"
#include "laws/conductance.hpp"
#include "laws/detection.hpp"
#include "laws/duct.hpp"
#include "laws/friction.hpp"
#include "laws/holding.hpp"
#include "laws/passage.hpp"
#include "laws/pump_curve.hpp"
#include "laws/rated.hpp"
#include "laws/slot.hpp"

namespace airtally::pictures {
namespace {

constexpr double room = 101325.0;
const gas::Air air = gas::air_at(293.15);

double litres(double m) { return m / gas::free_air_density * 60e3; }

/// `y` at `count` even steps from `from` to `to`, or at even ratios.
Curve curve(std::string label, double from, double to, const std::function<double(double)>& y, bool even_ratios = false,
            int count = 60) {
  Curve result{std::move(label), {}};
  for (int i = 0; i <= count; ++i) {
    const double share = static_cast<double>(i) / count;
    const double x = even_ratios ? from * std::pow(to / from, share) : from + share * (to - from);
    result.points.emplace_back(x, y(x));
  }
  return result;
}

/// From the room into a vacuum of `kpa`.
laws::Ends into(double kpa) { return {room, room - 1e3 * kpa}; }

const std::vector<double> vacuums{0, 20, 40, 60, 80, 100};
Axis vacuum_axis() { return {"vacuum behind it [kPa]", 0, 100, vacuums}; }
Axis flow_axis(double most, const std::vector<double>& ticks) { return {"flow [L/min of free air]", 0, most, ticks}; }

Picture duct_picture() {
  const auto of = [](double bore) {
    return [bore](double kpa) { return litres(laws::duct({bore, 1.0}, into(kpa), air).m); };
  };
  return {
      "duct",
      "Flow through a metre of hose against vacuum: twice the bore passes many times the air",
      vacuum_axis(),
      flow_axis(80, {0, 20, 40, 60, 80}),
      {curve("bore 4 mm", 0, 98, of(4e-3)), curve("bore 3 mm", 0, 98, of(3e-3)), curve("bore 2 mm", 0, 98, of(2e-3))}};
}

Picture friction_picture() {
  const auto of = [](double rough) { return [rough](double re) { return laws::churchill(re, rough).g / re; }; };
  return {"friction",
          "Darcy's friction factor against Reynolds number: laminar, the jump between, turbulent",
          {"Reynolds number", 100, 1e5, {100, 1000, 1e4, 1e5}, true},
          {"friction factor", 0.01, 1, {0.01, 0.1, 1}, true},
          {curve("rough, 2 %", 100, 1e5, of(0.02), true), curve("smooth", 100, 1e5, of(0.0), true)}};
}

Picture passage_picture() {
  const auto of = [](double length) {
    return [length](double kpa) { return litres(laws::passage({1e-3, length}, into(kpa), air).m); };
  };
  return {"passage",
          "Flow into a nozzle of 1 mm against vacuum: past about half an atmosphere it chokes",
          vacuum_axis(),
          flow_axis(9, {0, 2, 4, 6, 8}),
          {curve("length 0", 0, 98, of(0.0)), curve("6 mm", 0, 98, of(6e-3)), curve("30 mm", 0, 98, of(30e-3))}};
}

Picture conductance_picture() {
  const auto of = [](double b) {
    return [b](double kpa) { return litres(laws::conductance({0.1e-8, b}, into(kpa), air).m); };
  };
  return {"conductance",
          "Flow through a valve of C = 0.1 dm3/(s bar) against vacuum, for three critical ratios b",
          vacuum_axis(),
          flow_axis(8, {0, 2, 4, 6, 8}),
          {curve("b = 0.5", 0, 100, of(0.5)), curve("b = 0.35", 0, 100, of(0.35)), curve("b = 0.1", 0, 100, of(0.1))}};
}

Picture clearance_picture() {
  const auto of = [](double eccentricity) {
    return [eccentricity](double um) {
      return 1e3 * litres(laws::clearance({um * 1e-6, 5e-3, 4e-3, eccentricity}, into(60), air).m);
    };
  };
  return {"clearance",
          "Leak of a rotary joint against its radial gap at 60 kPa: up to the cube of the gap",
          {"radial gap [um]", 0, 40, {0, 10, 20, 30, 40}},
          {"leak [mL/min of free air]", 0, 8000, {0, 2000, 4000, 6000, 8000}},
          {curve("shaft touching", 1, 40, of(1.0)), curve("half off centre", 1, 40, of(0.5)),
           curve("concentric", 1, 40, of(0.0))}};
}

Picture face_gap_picture() {
  const auto of = [](double vacuum) {
    return [vacuum](double um) {
      return 1e3 * litres(laws::face_gap({um * 1e-6, 0.5e-3, 0.9e-3}, into(vacuum), air).m);
    };
  };
  return {"face-gap",
          "Air under a part that does not quite seal, against the gap, for a rim of 1.0 and 1.8 mm",
          {"gap under the part [um]", 0, 20, {0, 5, 10, 15, 20}},
          {"leak [mL/min of free air]", 0, 1100, {0, 250, 500, 750, 1000}},
          {curve("at 60 kPa", 0.5, 20, of(60)), curve("at 30 kPa", 0.5, 20, of(30))}};
}

Picture rated_picture() {
  const double m = 12e-3 / 60e3 * gas::free_air_density;
  const laws::Rated laminar = laws::rated_from(m, room, room - 60e3);
  const laws::Conductance orifice = laws::conductance_from(m, room, room - 60e3);
  return {"rated",
          "Two leaks of 12 mL/min at 60 kPa: a laminar one goes on growing with vacuum, an orifice hardly",
          vacuum_axis(),
          {"leak [mL/min of free air]", 0, 16, {0, 4, 8, 12, 16}},
          {curve("laminar", 0, 100, [=](double kpa) { return 1e3 * litres(laws::rated(laminar, into(kpa)).m); }),
           curve("orifice", 0, 100,
                 [=](double kpa) { return 1e3 * litres(laws::conductance(orifice, into(kpa), air).m); })}};
}

Picture slip_picture() {
  gas::Air sticking = air;
  sticking.slip = 0.0;
  const auto of = [sticking](double mean) {
    return [sticking, mean](double um) {
      const laws::Clearance slot{um * 1e-6, 0.5, 1e-2, 0.0};
      const laws::Ends ends{mean + 50.0, mean - 50.0};
      return laws::clearance(slot, ends, air).m / laws::clearance(slot, ends, sticking).m;
    };
  };
  return {"slip",
          "How much more air slides through a narrow slot than a law without slip says, against its height",
          {"height of the slot [um]", 1, 100, {1, 3, 10, 30, 100}, true},
          {"factor on the flow", 1, 2.2, {1, 1.25, 1.5, 1.75, 2}},
          {curve("at 40 kPa absolute", 1, 100, of(40e3), true), curve("70 kPa", 1, 100, of(70e3), true),
           curve("100 kPa", 1, 100, of(100e3), true)}};
}

Picture pump_picture() {
  const auto of = [](double altitude) {
    gas::Site site;
    site.pressure = gas::pressure_at_altitude(altitude);
    const auto flow = [](double litre) { return litre / 60e3 * gas::free_air_density; };
    const laws::PumpCurve pump({{0, flow(8)}, {30e3, flow(4.6)}, {60e3, flow(1.1)}, {71e3, 0}}, site);
    return [=](double kpa) { return litres(pump.at(site.pressure - 1e3 * kpa).m); };
  };
  return {"pump-curve",
          "A pump's flow against vacuum at the sea and at 2000 m, where both ends of the curve are lower",
          {"vacuum at its inlet [kPa]", 0, 80, {0, 20, 40, 60, 80}},
          flow_axis(8, {0, 2, 4, 6, 8}),
          {curve("sea level", 0, 80, of(0)), curve("2000 m", 0, 80, of(2000))}};
}

Picture site_picture() {
  return {"site",
          "The pressure of the room, and so the deepest vacuum there can be, against altitude",
          {"altitude [m]", 0, 3000, {0, 1000, 2000, 3000}},
          {"pressure [kPa]", 60, 110, {60, 70, 80, 90, 100, 110}},
          {curve("of the room", 0, 3000, [](double m) { return gas::pressure_at_altitude(m) / 1e3; })}};
}

Picture holding_picture() {
  const auto of = [](double mm) {
    return [mm](double kpa) { return 1e3 * laws::suction_force(1e3 * kpa, 1e-3 * mm); };
  };
  return {"holding",
          "Holding force against vacuum for three bores: it grows with the square of the bore",
          {"vacuum at the mouth [kPa]", 0, 80, {0, 20, 40, 60, 80}},
          {"force [mN]", 0, 150, {0, 50, 100, 150}},
          {curve("bore 1.5 mm", 0, 80, of(1.5)), curve("1 mm", 0, 80, of(1.0)), curve("0.6 mm", 0, 80, of(0.6))}};
}

}  // namespace

std::vector<Picture> all_pictures() {
  return {site_picture(),        duct_picture(),      friction_picture(), passage_picture(),
          conductance_picture(), clearance_picture(), face_gap_picture(), rated_picture(),
          slip_picture(),        pump_picture(),      holding_picture()};
}

}  // namespace airtally::pictures
