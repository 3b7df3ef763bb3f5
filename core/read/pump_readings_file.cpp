#include "read/pump_readings_file.hpp"

#include <fmt/format.h>

#include "line/meters.hpp"
#include "read/tables_private.hpp"
#include "read/text_file_private.hpp"
#include "read/toml_file_private.hpp"

namespace airtally::read {
namespace {

line::PumpReading read_one(TableReader& table) {
  line::PumpReading reading;
  reading.where = table.where();
  reading.vacuum = table.needed("vacuum", limits::vacuum);
  reading.hole = table.quantity("hole", limits::hole);
  reading.flow = table.quantity("flow", limits::measured_flow);
  if (const auto discharge = table.quantity("discharge", limits::discharge)) reading.discharge = *discharge;
  reading.current = table.quantity("current", limits::current);
  if (reading.hole.has_value() == reading.flow.has_value() && table.has("hole") == table.has("flow"))
    table.complain_here(
        "needs either 'hole', the diameter of the drilled hole that the pump drew air through, or 'flow', as a flow "
        "meter read it.");
  table.know("note");
  table.refuse_unknown_keys("a pump's reading");
  return reading;
}

/// A thin plate drilled and deburred: nine in ten have 0.6 to 0.85 (as for the plates of a hunt,
/// hunt/beliefs/plate.hpp).
units::Quantity usual_discharge() {
  units::Quantity usual = units::Quantity::normal(0.72, 0.15);
  usual.least = limits::discharge.low;  // as of one that the file gives: a draw in ten thousand would be above 1
  usual.most = limits::discharge.high;
  return usual;
}

/// What the file does not say of its instruments is not known to be perfect.
void fill_in(line::PumpReadings& readings, bool gauge, const std::vector<bool>& discharge) {
  if (!gauge) {
    readings.accuracy = line::usual_gauge_accuracy;
    readings.assumed.push_back(fmt::format(
        "gauge.accuracy is not given: taken as {:g} kPa, as is usual (common practice)", 1e-3 * readings.accuracy));
  }
  bool some = false, exact = false;
  for (std::size_t k = 0; k < readings.list.size(); ++k) {
    line::PumpReading& reading = readings.list[k];
    if (!reading.hole) continue;
    exact = exact || reading.hole->is_exact();
    if (discharge[k]) continue;
    some = true;
    reading.discharge = usual_discharge();
  }
  if (some)
    readings.assumed.emplace_back(
        "discharge is not given: taken as 0.72 +- 0.15, as is usual for a drilled plate (common practice)");
  if (exact) readings.assumed.emplace_back("a hole without +- is taken to be exactly as wide as stated");
}

}  // namespace

line::PumpReadings read_pump_readings_text(std::string_view text, const std::string& name) {
  const toml::table file = parse_toml(text, name);
  Complaints complaints(name);
  TableReader top(file, "pump readings", complaints);
  check_format(top);
  line::PumpReadings readings;
  readings.file = name;
  readings.name = top.text("name").value_or("pump from readings");
  if (const auto site = top.table("site")) {
    TableReader table(site->raw(), "site", complaints);
    readings.site = read_site(table);
  }
  bool gauged = false;
  if (auto gauge = top.table("gauge")) {
    if (const auto accuracy = gauge->quantity("accuracy", limits::reading)) {
      readings.accuracy = accuracy->value;
      gauged = true;
    }
    gauge->refuse_unknown_keys("'gauge'");
  }
  readings.blocked = top.quantity("blocked", limits::measured_drop);
  readings.free_flow = top.quantity("free-flow", limits::measured_flow);
  int number = 0;
  std::vector<bool> discharge;
  for (const TableReader& found : top.tables("reading")) {
    TableReader table(found.raw(), fmt::format("reading {}", ++number), complaints);
    readings.list.push_back(read_one(table));
    discharge.push_back(table.has("discharge"));
    if (readings.list.back().vacuum.high >= line::deepest_read * readings.site.pressure)
      table.complain("vacuum", fmt::format("the vacuum reaches the ambient pressure of {:.1f} kPa, where nothing would "
                                           "be left.",
                                           1e-3 * readings.site.pressure));
  }
  top.refuse_unknown_keys("a file of pump readings");
  const std::size_t points = readings.list.size() + (readings.blocked ? 1U : 0U) + (readings.free_flow ? 1U : 0U);
  if (points < 2 && complaints.empty())
    top.complain_here(
        "a pump needs two points at least: blocked = \"62 kPa\" and free-flow = \"4 L/min\", or a [[reading]] with a "
        "drilled hole for one of them.");
  complaints.throw_if_any();
  fill_in(readings, gauged, discharge);
  return readings;
}

line::PumpReadings read_pump_readings(const std::filesystem::path& file) {
  return read_pump_readings_text(text_of(file), file.string());
}

}  // namespace airtally::read
