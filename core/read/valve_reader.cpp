#include <array>

#include "read/element_private.hpp"

namespace airtally::read {
namespace {

std::optional<Quantity> read_blow_off(TableReader& table) {
  auto inside = table.table("blow-off");
  if (!inside) return std::nullopt;
  const Quantity pressure = inside->needed("pressure", limits::supply);
  inside->refuse_unknown_keys("'blow-off'");
  return pressure;
}

}  // namespace

line::Valve read_valve(TableReader& table) {
  constexpr std::array<std::string_view, 3> states{"open", "closed", "vent"};
  line::Valve valve;
  valve.opens = table.quantity_or("opens", limits::delay, 0.0, "at once");
  valve.closes = table.quantity_or("closes", limits::delay, 0.0, "at once");
  valve.ramp = table.quantity("ramp", limits::delay).value_or(Quantity(0.0));
  if (auto vent = table.table("vent")) {
    valve.vent = line::Vent{read_iso(*vent), read_blow_off(*vent)};
    vent->refuse_unknown_keys("'vent'");
  }
  // Beside the vent or inside it, whichever reads better.
  if (const auto blow_off = read_blow_off(table)) {
    if (!valve.vent) {
      table.complain("blow-off",
                     "blow-off air comes in through the release port; describe it as vent = { conductance = "
                     "\"0.25 dm3/(s bar)\" }.");
    } else if (valve.vent->blow_off) {
      table.complain("blow-off", "blow-off is given twice, here and inside 'vent'; leave one out.");
    } else {
      valve.vent->blow_off = blow_off;
    }
  }
  valve.state = static_cast<line::ValveState>(table.choice("state", states).value_or(0));
  if (valve.state == line::ValveState::vent && !valve.vent) {
    table.complain("state", "a valve without 'vent' can't be in the state \"vent\".");
  }
  return valve;
}

}  // namespace airtally::read
