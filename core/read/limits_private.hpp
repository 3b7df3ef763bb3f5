#pragma once
#include <string_view>

#include "gas/air.hpp"
#include "units/dimension.hpp"

/// What a value in a file may be. Wide enough for anything a pick-up line is built of, narrow enough to catch a slip of
/// the unit. Common practice, no source.
namespace airtally::read {

using units::Dimension;

/// Both ends allowed [SI]; `words` is how a complaint names them.
struct Limits {
  Dimension dimension;
  double low;
  double high;
  std::string_view words;
  std::string_view example = {};  ///< of such a value; empty: that of its dimension
};

namespace limits {

inline constexpr double l_min = gas::free_air_density / 60e3;  // kg/s in one litre of free air a minute

inline constexpr Limits bore{Dimension::length, 1e-5, 0.1, "0.01 mm .. 100 mm"};
inline constexpr Limits length{Dimension::length, 1e-5, 100.0, "0.01 mm .. 100 m"};
inline constexpr Limits roughness{Dimension::length, 0.0, 1e-3, "0 mm .. 1 mm"};
inline constexpr Limits loss{Dimension::number, 0.0, 1000.0, "0 .. 1000"};
inline constexpr Limits wall{Dimension::length, 1e-5, 0.05, "0.01 mm .. 50 mm"};
inline constexpr Limits modulus{Dimension::pressure, 1e4, 1e12, "10 kPa .. 1000 GPa"};
inline constexpr Limits volume{Dimension::volume, 0.0, 1.0, "0 mL .. 1000 L"};
inline constexpr Limits spacing{Dimension::length, 1e-5, 10.0, "0.01 mm .. 10 m"};
inline constexpr Limits conductance{Dimension::conductance, 1e-14, 1e-5, "0.000001 dm3/(s bar) .. 1000 dm3/(s bar)"};
inline constexpr Limits critical_ratio{Dimension::number, 0.0, 0.95, "0 .. 0.95"};
inline constexpr Limits discharge{Dimension::number, 0.1, 1.0, "0.1 .. 1"};
// A leak of nothing is written by leaving it out, so these two begin above zero.
inline constexpr Limits hole{Dimension::length, 1e-6, 0.01, "0.001 mm .. 10 mm"};
inline constexpr Limits clearance{Dimension::length, 1e-8, 1e-3, "0.01 um .. 1 mm"};
inline constexpr Limits part_gap{Dimension::length, 0.0, 1e-3, "0 mm .. 1 mm"};
inline constexpr Limits eccentricity{Dimension::number, 0.0, 1.0, "0 .. 1"};
inline constexpr Limits flow{Dimension::flow, 0.0, 1e4 * l_min, "0 L/min .. 10000 L/min"};
inline constexpr Limits measured_flow{Dimension::flow, 1e-9 * l_min, 1e4 * l_min, "0.000001 mL/min .. 10000 L/min"};
inline constexpr Limits vacuum{Dimension::pressure, 0.0, 101325.0, "0 kPa .. 101.325 kPa"};
inline constexpr Limits measured_drop{Dimension::pressure, 0.1, 101e3, "0.1 Pa .. 101 kPa"};
inline constexpr Limits current{Dimension::current, 0.0, 100.0, "0 A .. 100 A"};
inline constexpr Limits speed{Dimension::number, 0.01, 10.0, "0.01 .. 10"};
inline constexpr Limits frequency{Dimension::frequency, 0.1, 1e4, "0.1 Hz .. 10 kHz"};
inline constexpr Limits supply{Dimension::pressure, 1e3, 2e6, "1 kPa .. 2 MPa"};
inline constexpr Limits delay{Dimension::time, 0.0, 60.0, "0 s .. 60 s"};
inline constexpr Limits reading{Dimension::pressure, 0.0, 5e4, "0 kPa .. 50 kPa"};
inline constexpr Limits gauge_range{Dimension::pressure, 100.0, 101325.0, "0.1 kPa .. 101.325 kPa"};
inline constexpr Limits effort{Dimension::number, 0.0, 1000.0, "0 .. 1000"};
inline constexpr Limits altitude{Dimension::length, -1000.0, 11000.0, "-1000 m .. 11000 m", "1000 m"};
inline constexpr Limits site_pressure{Dimension::pressure, 2e4, 1.2e5, "20 kPa .. 120 kPa"};
inline constexpr Limits temperature{Dimension::temperature, 223.15, 353.15, "-50 C .. 80 C"};
inline constexpr Limits seal_friction{Dimension::torque, 0.0, 100.0, "0 N m .. 100 N m"};
inline constexpr Limits mass{Dimension::mass, 1e-9, 10.0, "0.001 mg .. 10 kg"};
inline constexpr Limits part_size{Dimension::length, 1e-5, 1.0, "0.01 mm .. 1 m"};

}  // namespace limits
}  // namespace airtally::read
