#include <array>

#include "read/tables_private.hpp"

namespace airtally::read {
namespace {

// Wide enough for anything that carries parts, narrow enough to catch a slip of the unit. Common practice, no source.
constexpr Limits acceleration{Dimension::acceleration, 0.0, 1e4, "0 m/s2 .. 10000 m/s2"};
constexpr Limits spin{Dimension::angular_speed, 0.0, 1e4, "0 rad/s .. 10000 rad/s"};
constexpr Limits spin_up{Dimension::angular_acceleration, 0.0, 1e6, "0 rad/s2 .. 1000000 rad/s2"};
constexpr Limits off_centre{Dimension::length, 0.0, 0.5, "0 mm .. 500 mm"};
constexpr Limits rubbing{Dimension::number, 0.01, 5.0, "0.01 .. 5"};
constexpr Limits safety{Dimension::number, 1.0, 100.0, "1 .. 100"};

void read_safety(TableReader& table, line::Move& move) {
  auto inside = table.table("safety");
  if (!inside) {
    if (!table.has("safety")) table.assume("safety not given: 2 lifting, 4 sideways (common practice)");
    return;
  }
  move.lift_safety_stated = inside->has("lift");
  move.side_safety_stated = inside->has("side");
  move.lift_safety = inside->quantity_or("lift", safety, move.lift_safety, "2 (common practice)");
  move.side_safety = inside->quantity_or("side", safety, move.side_safety, "4 (common practice)");
  inside->refuse_unknown_keys("'safety'");
}

}  // namespace

line::Move read_move(TableReader& table) {
  constexpr std::array<std::string_view, 2> seals{"bore", "rim"};
  line::Move move;
  move.where = table.where();
  move.lift = table.quantity_or("lift", acceleration, 0.0, "none");
  move.travel = table.quantity_or("travel", acceleration, 0.0, "none");
  move.spin = table.quantity("spin", spin).value_or(Quantity(0.0));
  move.spin_up = table.quantity("spin-up", spin_up).value_or(Quantity(0.0));
  move.offset = table.quantity_or("offset", off_centre, 0.0, "none, the part is picked at its centre of mass");
  move.friction_stated = table.has("friction");
  move.friction = table.quantity_or("friction", rubbing, move.friction, "0.3 (common practice for a hard dry tip)");
  read_safety(table, move);
  if (!table.has("seal")) table.assume("seal not given: bore, the vacuum acts on the nozzle's bore only");
  move.seal = static_cast<line::SealAt>(table.choice("seal", seals).value_or(0));
  table.refuse_unknown_keys("[move]");
  return move;
}

}  // namespace airtally::read
