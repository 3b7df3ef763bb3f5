#include <fmt/format.h>

#include <array>

#include "read/element_private.hpp"

namespace airtally::read {
namespace {

using line::Kind;

line::Bore read_bore(TableReader& table, Kind kind) {
  line::Bore bore;
  bore.bore = table.needed("bore", limits::bore);
  bore.length = table.needed("length", limits::length);
  bore.roughness = table.quantity_or("roughness", limits::roughness, 0.0, "smooth");
  if (bore.bore.value > 0.0 && bore.roughness.value > 0.1 * bore.bore.value)
    table.complain("roughness",
                   fmt::format("the roughness of the wall can be a tenth of the bore at most, {:g} mm here.",
                               100.0 * bore.bore.value));
  // A nozzle's entrance and exit belong to its law; nothing else fits into it.
  if (kind != Kind::nozzle) bore.loss = table.quantity("loss", limits::loss).value_or(Quantity(0.0));
  return bore;
}

line::RatedDrop read_rated_drop(TableReader& table) {
  line::RatedDrop rated;
  if (auto inside = table.table("rated")) {
    rated.flow = inside->needed("flow", limits::measured_flow);
    rated.drop = inside->needed("drop", limits::measured_drop);
    inside->refuse_unknown_keys("'rated'");
  }
  return rated;
}

// Some kinds may be described in two ways. Own keys of one way put the catalogue's other way out of force.
bool by_conductance(TableReader& table, std::initializer_list<std::string_view> other_way, std::string_view kind_hint) {
  constexpr std::array<std::string_view, 2> iso{"conductance", "critical-ratio"};
  bool own_other = false;
  for (const std::string_view key : other_way) own_other = own_other || table.has_own(key);
  if (own_other && !table.has_own("conductance")) {
    for (const std::string_view key : iso) table.forget_inherited(key);
  }
  if (!own_other && table.has_own("conductance")) {
    for (const std::string_view key : other_way) table.forget_inherited(key);
  }
  if (!table.has("conductance")) {
    for (const std::string_view key : other_way) table.know(key);
    for (const std::string_view key : iso) table.know(key);
    return false;
  }
  for (const std::string_view key : other_way) {
    table.know(key);
    if (table.has(key)) table.complain(key, std::string(kind_hint));
  }
  return true;
}

}  // namespace

line::Iso read_iso(TableReader& table) {
  line::Iso iso;
  iso.conductance = table.needed("conductance", limits::conductance);
  iso.critical_ratio = table.quantity_or("critical-ratio", limits::critical_ratio, iso.critical_ratio, "0.35");
  return iso;
}

line::Restriction read_restriction(TableReader& table, Kind kind) {
  switch (kind) {
    case Kind::tube:
    case Kind::nozzle:
      return read_bore(table, kind);
    case Kind::spindle:
    case Kind::coupler:
    case Kind::rotary:
      if (by_conductance(table, {"bore", "length", "roughness", "loss"},
                         "say either bore and length or the conductance of a data sheet, not both.")) {
        return read_iso(table);
      }
      return read_bore(table, kind);
    case Kind::filter:
    case Kind::trap:
      if (by_conductance(table, {"rated"}, "say either 'rated' or the conductance of a data sheet, not both.")) {
        return read_iso(table);
      }
      if (!table.has("rated")) {
        table.know("rated");
        table.complain_here(
            fmt::format("a {} needs 'rated', such as rated = {{ flow = \"6 L/min\", drop = \"2 kPa\" }}, or a "
                        "'conductance'.",
                        line::word(kind)));
        return line::RatedDrop{};
      }
      return read_rated_drop(table);
    case Kind::valve:
    case Kind::check_valve:
      return read_iso(table);
    case Kind::pump:
    case Kind::ejector:
    case Kind::tee:
    case Kind::reservoir:
    case Kind::plug:
      break;
  }
  return {};
}

}  // namespace airtally::read
