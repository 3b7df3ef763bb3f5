// Every conversion factor of the program. Exact by definition unless a comment says otherwise.
//
// Sources: BIPM, The International System of Units (SI Brochure), 9th edition (2019), tables 4, 7 and 8: prefixes,
// litre, bar-free SI units, minute, hour, degree. NIST Special Publication 811 (2008), appendix B.8: inch, standard
// atmosphere, bar, torr, conventional millimetre and inch of mercury, pound-force per square inch, standard
// acceleration of free fall, degree Fahrenheit, revolution per minute.
#include <algorithm>
#include <array>
#include <numbers>

#include "gas/air.hpp"
#include "units/unit.hpp"

namespace airtally::units {
namespace {

using enum Dimension;

constexpr double pi = std::numbers::pi;
constexpr double inch = 0.0254;                          // m
constexpr double cubic_foot = 0.3048 * 0.3048 * 0.3048;  // m3
constexpr double pound = 0.45359237;                     // kg
constexpr double free_fall = 9.80665;                    // m/s2
constexpr double mercury = 13595.1 * free_fall * 1e-3;   // Pa per mm, conventional density 13595.1
constexpr double pound_per_square_inch = pound * free_fall / (inch * inch);
constexpr double rho = gas::free_air_density;  // kg/m3

// Normal litres (DIN 1343: 273.15 K, 101325 Pa; the state of sccm and slm as well) hold as many molecules as 1.0874
// litres of free air (ISO 8778: 293.15 K, 100 kPa).
constexpr double normal =
    (gas::standard_pressure / gas::free_air_pressure) * (gas::free_air_temperature / 273.15) * rho;

// Pressure times volume per time, as leak testers count: air at 20 C, so that 1 Pa m3/s = 10 mL/s of free air at 100
// kPa.
constexpr double per_pv = rho / gas::free_air_pressure;

constexpr std::array table{
    Unit{number, "", "1", 1.0},
    Unit{number, "%", "percent|per cent", 1.0, 100.0},

    Unit{length, "mm", "", 1.0, 1e3},
    Unit{length, "um", "micron|microns", 1.0, 1e6},
    Unit{length, "nm", "", 1.0, 1e9},
    Unit{length, "cm", "", 1.0, 1e2},
    Unit{length, "m", "", 1.0},
    Unit{length, "km", "", 1e3},
    Unit{length, "in", "inch", inch},
    Unit{length, "ft", "foot|feet", 12.0 * inch},
    Unit{length, "mil", "mils|thou", 1e-3 * inch},

    Unit{pressure, "kPa", "", 1e3},
    Unit{pressure, "Pa", "N/m2", 1.0},
    Unit{pressure, "hPa", "", 1e2},
    Unit{pressure, "MPa", "N/mm2", 1e6},
    Unit{pressure, "GPa", "", 1e9},
    Unit{pressure, "mbar", "", 1e2},
    Unit{pressure, "bar", "", 1e5},
    Unit{pressure, "inHg", "in Hg", 25.4 * mercury},
    Unit{pressure, "mmHg", "mm Hg", mercury},
    Unit{pressure, "Torr", "torr", gas::standard_pressure, 760.0},
    Unit{pressure, "psi", "", pound_per_square_inch},
    Unit{pressure, "atm", "", gas::standard_pressure},

    Unit{flow, "L/min", "l/min|dm3/min", rho, 60e3},
    Unit{flow, "mL/min", "ml/min", rho, 60e6},
    Unit{flow, "L/s", "l/s|dm3/s", rho, 1e3},
    Unit{flow, "L/h", "l/h|dm3/h", rho, 3600e3},
    Unit{flow, "m3/h", "", rho, 3600.0},
    Unit{flow, "cm3/min", "cc/min", rho, 60e6},
    // Cubic feet as sheets of pumps and valves count them, standard or not: a standard one holds more than one of free
    // air, of 60 degF and 14.696 psia by 2.9 %, of 68 degF by 1.3 %, of 70 degF by 0.9 %.
    Unit{flow, "ft3/min", "cfm|CFM|scfm|SCFM", cubic_foot* rho, 60.0},
    Unit{flow, "ft3/h", "cfh|CFH|scfh|SCFH", cubic_foot* rho, 3600.0},
    Unit{flow, "sccm", "Ncm3/min|NmL/min|Nml/min", normal, 60e6},
    Unit{flow, "slm", "slpm", normal, 60e3},
    Unit{flow, "NL/min", "Nl/min", normal, 60e3},
    Unit{flow, "mbar L/s", "mbar l/s", 0.1 * per_pv},
    Unit{flow, "Torr L/s", "Torr l/s|torr L/s|torr l/s", gas::standard_pressure* per_pv, 760e3},
    Unit{flow, "Pa m3/s", "", per_pv},
    Unit{flow, "kg/s", "", 1.0},
    Unit{flow, "g/s", "", 1.0, 1e3},
    Unit{flow, "g/min", "", 1.0, 60e3},

    Unit{volume, "mL", "ml", 1.0, 1e6},
    Unit{volume, "L", "l", 1.0, 1e3},
    Unit{volume, "dm3", "", 1.0, 1e3},
    Unit{volume, "cm3", "cc", 1.0, 1e6},
    Unit{volume, "mm3", "", 1.0, 1e9},
    Unit{volume, "uL", "ul", 1.0, 1e9},
    Unit{volume, "m3", "", 1.0},
    Unit{volume, "in3", "", inch* inch* inch},
    Unit{volume, "ft3", "", cubic_foot},

    Unit{mass, "g", "", 1.0, 1e3},
    Unit{mass, "mg", "", 1.0, 1e6},
    Unit{mass, "ug", "", 1.0, 1e9},
    Unit{mass, "kg", "", 1.0},
    Unit{mass, "oz", "", pound, 16.0},
    Unit{mass, "lb", "lbs", pound},

    Unit{time, "s", "sec", 1.0},
    Unit{time, "ms", "", 1.0, 1e3},
    Unit{time, "us", "", 1.0, 1e6},
    Unit{time, "min", "", 60.0},
    Unit{time, "h", "", 3600.0},

    Unit{angle, "deg", "", pi, 180.0},
    Unit{angle, "rad", "", 1.0},
    Unit{angle, "turn", "turns", 2.0 * pi},
    Unit{angle, "rev", "", 2.0 * pi},

    Unit{current, "mA", "", 1.0, 1e3},
    Unit{current, "uA", "", 1.0, 1e6},
    Unit{current, "A", "", 1.0},

    Unit{voltage, "V", "", 1.0},
    Unit{voltage, "mV", "", 1.0, 1e3},
    Unit{voltage, "uV", "", 1.0, 1e6},

    // 1 dm3/(s bar) = 1e-3 m3 / (s 1e5 Pa).
    Unit{conductance, "dm3/(s bar)", "dm3/s/bar", 1.0, 1e8},
    Unit{conductance, "L/(s bar)", "l/s bar|L/s/bar|l/s/bar", 1.0, 1e8},
    Unit{conductance, "L/(min bar)", "l/min bar|L/min/bar|l/min/bar", 1.0, 60e8},
    Unit{conductance, "m3/(s Pa)", "m3/s/Pa", 1.0},

    Unit{acceleration, "m/s2", "", 1.0},
    Unit{acceleration, "mm/s2", "", 1.0, 1e3},
    Unit{acceleration, "g", "", free_fall},
    Unit{acceleration, "in/s2", "", inch},

    Unit{temperature, "C", "degC", 1.0, 1.0, 273.15},
    Unit{temperature, "K", "", 1.0},
    Unit{temperature, "F", "degF", 5.0, 9.0, 459.67},

    Unit{force, "N", "", 1.0},
    Unit{force, "mN", "", 1.0, 1e3},
    Unit{force, "uN", "", 1.0, 1e6},

    Unit{torque, "mN m", "mNm", 1.0, 1e3},
    Unit{torque, "N m", "Nm", 1.0},
    Unit{torque, "N cm", "Ncm", 1.0, 1e2},
    Unit{torque, "N mm", "Nmm", 1.0, 1e3},
    Unit{torque, "uN m", "uNm", 1.0, 1e6},

    Unit{speed, "m/s", "", 1.0},
    Unit{speed, "mm/s", "", 1.0, 1e3},
    Unit{speed, "in/s", "", inch},

    Unit{angular_speed, "rad/s", "", 1.0},
    Unit{angular_speed, "deg/s", "", pi, 180.0},
    Unit{angular_speed, "rpm", "rev/min|1/min", 2.0 * pi, 60.0},
    Unit{angular_speed, "rev/s", "turn/s|turns/s", 2.0 * pi},

    Unit{angular_acceleration, "rad/s2", "", 1.0},
    Unit{angular_acceleration, "deg/s2", "", pi, 180.0},

    Unit{frequency, "Hz", "1/s", 1.0},
    Unit{frequency, "kHz", "", 1e3},

    Unit{inertia, "g cm2", "gcm2", 1.0, 1e7},
    Unit{inertia, "g mm2", "gmm2", 1.0, 1e9},
    Unit{inertia, "kg m2", "kgm2", 1.0},

    Unit{resistance, "ohm", "Ohm", 1.0},
    Unit{resistance, "kohm", "kOhm", 1e3},
    Unit{resistance, "Mohm", "MOhm", 1e6},

    Unit{density, "kg/m3", "", 1.0},
    Unit{density, "g/cm3", "", 1e3},

    // Differences: the zero of the scale does not count.
    Unit{warming, "K", "", 1.0},
    Unit{warming, "C", "degC", 1.0},
    Unit{warming, "F", "degF", 5.0, 9.0},
};

}  // namespace

std::span<const Unit> all_units() { return table; }

std::span<const Unit> units_of(Dimension dimension) {
  const auto is_here = [dimension](const Unit& u) { return u.dimension == dimension; };
  const auto first = std::find_if(table.begin(), table.end(), is_here);
  return {first, std::find_if_not(first, table.end(), is_here)};
}

}  // namespace airtally::units
