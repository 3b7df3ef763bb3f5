#include <algorithm>
#include <array>

#include "read/tables_private.hpp"

namespace airtally::read {
namespace {

// Wide enough for anything that picks parts, narrow enough to catch a slip of the unit. Common practice, no source.
constexpr Limits moment{Dimension::time, 0.0, 600.0, "0 s .. 600 s"};
constexpr Limits duration{Dimension::time, 1e-3, 600.0, "1 ms .. 600 s"};
constexpr Limits height{Dimension::length, 0.0, 0.05, "0 mm .. 50 mm"};
constexpr Limits speed{Dimension::speed, 1e-4, 5.0, "0.1 mm/s .. 5000 mm/s"};

line::HeadSchedule read_head(TableReader& table) {
  line::HeadSchedule head;
  head.where = table.has("nozzle") ? table.where("nozzle") : table.where();
  if (!table.has("nozzle")) table.complain_here("[[cycle.head]] needs 'nozzle', the name of the head's nozzle.");
  head.nozzle = table.text("nozzle").value_or("");
  head.delay = table.needed("delay", moment);
  table.refuse_unknown_keys("[[cycle.head]]");
  return head;
}

}  // namespace

line::Cycle read_cycle(TableReader& table) {
  constexpr std::array<std::string_view, 2> pumps{"always-on", "switched"};
  line::Cycle cycle;
  cycle.where = table.where();
  cycle.valve_on = table.quantity_or("valve-on", moment, 0.0, "at 0 s, the start of the cycle");
  cycle.approach_height = table.quantity_or("approach-height", height, cycle.approach_height, "0.5 mm");
  cycle.approach_speed = table.quantity_or("approach-speed", speed, cycle.approach_speed, "20 mm/s");
  cycle.touch = table.needed("touch", moment);
  cycle.lift = table.quantity("lift", moment);
  if (!table.has("lift")) table.assume("[cycle] lift not given: as soon as it is safe");
  cycle.travel = table.quantity("travel", moment);
  if (!table.has("travel")) table.assume("[cycle] travel not given: sideways moves begin with the lift");
  cycle.place = table.needed("place", moment);
  cycle.release = table.quantity("release", moment);
  if (!table.has("release"))
    table.assume(table.has("pump-off") ? "release not given: with place; what hangs on no valve is let go by pump-off"
                                       : "release not given: with place");
  cycle.vent_time = table.quantity("vent-time", duration);
  cycle.retract = table.quantity("retract", moment);
  cycle.period = table.quantity("period", duration);
  if (!table.has("pump")) table.assume("pump not given: always-on");
  cycle.pump_always_on = table.choice("pump", pumps).value_or(0) == 0;
  cycle.pump_off = table.quantity("pump-off", moment);
  if (cycle.pump_off && cycle.pump_always_on)
    table.complain("pump-off", "a pump that is always on is never switched off; say pump = \"switched\" as well.");
  for (TableReader& head : table.tables("head")) {
    cycle.heads.push_back(read_head(head));
    const auto same = [&](const line::HeadSchedule& other) { return other.nozzle == cycle.heads.back().nozzle; };
    if (std::count_if(cycle.heads.begin(), cycle.heads.end(), same) > 1)
      head.complain("nozzle", "this nozzle has a [[cycle.head]] already.");
  }
  table.refuse_unknown_keys("[cycle]");
  return cycle;
}

}  // namespace airtally::read
