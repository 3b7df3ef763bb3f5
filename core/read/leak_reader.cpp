#include <fmt/format.h>

#include <array>

#include "read/element_private.hpp"
#include "units/show.hpp"

namespace airtally::read {
namespace {

constexpr std::string_view pattern =
    "write leak = { hole = \"0.08 mm\" }, leak = { clearance = \"35 um\", diameter = \"5 mm\", length = \"4 mm\" } or "
    "leak = { rated = \"12 mL/min\", at = \"60 kPa\" }";

line::Hole read_hole(TableReader& table) {
  line::Hole hole;
  hole.diameter = table.needed("hole", limits::hole);
  hole.discharge = table.quantity_or("discharge", limits::discharge, 0.72, "0.72, a sharp edge");
  table.refuse_unknown_keys("a hole");
  return hole;
}

line::Clearance read_clearance(TableReader& table) {
  line::Clearance clearance;
  clearance.gap = table.needed("clearance", limits::clearance);
  clearance.diameter = table.needed("diameter", limits::bore);
  clearance.length = table.needed("length", limits::length);
  clearance.eccentricity = table.quantity_or("eccentricity", limits::eccentricity, 0.0, "0, shaft and bush concentric");
  table.refuse_unknown_keys("a clearance");
  if (clearance.diameter.low > 0.0 && clearance.gap.high > 0.5 * clearance.diameter.low) {
    table.complain("clearance",
                   "the clearance is the gap on one side (half the difference of the diameters); it can't be "
                   "wider than half the diameter.");
  }
  return clearance;
}

}  // namespace

line::RatedLeak read_rated_leak(TableReader& table, double site_pressure) {
  constexpr std::array<std::string_view, 2> laws{"laminar", "orifice"};
  line::RatedLeak leak;
  leak.flow = table.needed("rated", limits::measured_flow);
  leak.at = table.needed("at", limits::measured_drop);
  if (leak.at.high >= site_pressure) {
    table.complain("at", fmt::format("the vacuum of a rated leak must be less than the site's ambient pressure of {}.",
                                     units::show(site_pressure, "kPa", 1)));
  }
  if (!table.has("law")) table.assume("law not given: laminar");
  leak.orifice = table.choice("law", laws).value_or(0) == 1;
  table.refuse_unknown_keys("a rated leak");
  return leak;
}

std::vector<line::Leak> read_leaks(TableReader& table, double site_pressure) {
  std::vector<line::Leak> leaks;
  for (TableReader& leak : table.tables("leak")) {
    const int forms = int{leak.has("hole")} + int{leak.has("clearance")} + int{leak.has("rated")};
    if (forms != 1) {
      leak.complain_here(fmt::format("a leak has exactly one of 'hole', 'clearance' and 'rated'; {}.", pattern));
    } else if (leak.has("hole")) {
      leaks.emplace_back(read_hole(leak));
    } else if (leak.has("clearance")) {
      leaks.emplace_back(read_clearance(leak));
    } else {
      leaks.emplace_back(read_rated_leak(leak, site_pressure));
    }
  }
  return leaks;
}

}  // namespace airtally::read
