#include <fmt/format.h>

#include "read/element_private.hpp"
#include "read/height.hpp"
#include "read/tables_private.hpp"

namespace airtally::read {
namespace {

double single_value(TableReader& table, std::string_view key, const Quantity& quantity) {
  if (!quantity.is_exact())
    table.complain(key, fmt::format("{} must be a single value, without tolerance or range.", key));
  return quantity.value;
}

}  // namespace

gas::Site read_site(TableReader& table) {
  gas::Site site;
  const auto altitude = table.quantity("altitude", limits::altitude);
  const auto pressure = table.quantity("pressure", limits::site_pressure);
  const auto temperature = table.quantity("temperature", limits::temperature);
  table.refuse_unknown_keys("[site]");
  if (table.has("altitude") && table.has("pressure")) {
    table.complain("pressure", "say either the altitude or the pressure, not both.");
  }
  if (altitude && table.has("altitude"))
    if (const auto slip = height_slip(table.raw()["altitude"].value_or(std::string())))
      table.complain("altitude", "altitude = " + *slip);
  if (altitude) site.pressure = gas::pressure_at_altitude(single_value(table, "altitude", *altitude));
  if (pressure) site.pressure = single_value(table, "pressure", *pressure);
  if (!table.has("altitude") && !table.has("pressure")) table.assume("pressure not given: 101.325 kPa");
  if (temperature) site.temperature = single_value(table, "temperature", *temperature);
  if (!table.has("temperature")) table.assume("temperature not given: 20 C");
  return site;
}

line::Part read_part(TableReader& table, double site_pressure) {
  line::Part part;
  part.where = table.has("name") ? table.where("name") : table.where();
  part.name = table.text("name").value_or("part");
  part.mass = table.needed("mass", limits::mass);
  part.gap = table.quantity_or("gap", limits::part_gap, 0.0, "none, the part seals on the rim");
  part.length = table.quantity("length", limits::part_size);
  part.width = table.quantity("width", limits::part_size);
  part.height = table.quantity("height", limits::part_size);
  if (auto porosity = table.table("porosity")) part.porosity = read_rated_leak(*porosity, site_pressure);
  table.refuse_unknown_keys("[part]");
  return part;
}

}  // namespace airtally::read
