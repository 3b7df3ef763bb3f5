#include <fmt/format.h>

#include "read/element_private.hpp"

namespace airtally::read {
namespace {

using line::Element;
using line::Kind;

void read_place(TableReader& table, Element& element) {
  const std::optional<std::string> after = table.text("after"), joins = table.text("joins");
  element.after = after.value_or("");
  element.joins = joins.value_or("");
  if (table.has("after")) element.after_at = table.where("after");
  if (table.has("joins")) element.joins_at = table.where("joins");
  for (const auto& [key, name] : {std::pair{"after", after}, std::pair{"joins", joins}}) {
    if (name && name->empty()) table.complain(key, fmt::format("{} must name an element.", key));
    if (name && !name->empty() && *name == element.name)
      table.complain(key, fmt::format("{} names the element itself.", key));
  }
}

line::Bore read_gauge_tube(TableReader& table) {
  line::Bore tube;
  tube.bore = table.needed("bore", limits::bore);
  tube.length = table.needed("length", limits::length);
  table.refuse_unknown_keys("a gauge's tube");
  return tube;
}

std::optional<line::Gauge> read_gauge(TableReader& table) {
  auto inside = table.table("gauge");
  if (!inside) return std::nullopt;
  line::Gauge gauge;
  gauge.accuracy = inside->quantity_or("accuracy", limits::reading, 0.0, "perfect");
  gauge.resolution = inside->quantity_or("resolution", limits::reading, 0.0, "perfect");
  gauge.range = inside->quantity("range", limits::gauge_range);
  if (auto tube = inside->table("tube")) gauge.tube = read_gauge_tube(*tube);
  gauge.volume = inside->quantity("volume", limits::volume).value_or(Quantity(0.0));
  if (!gauge.tube && inside->has("volume"))
    inside->complain("volume",
                     "the gauge's volume lies behind a tube of its own; give tube = { bore = ..., length = ... }, or "
                     "add the volume to the element.");
  inside->refuse_unknown_keys("'gauge'");
  return gauge;
}

Quantity read_volume(TableReader& table, Kind kind) {
  if (kind == Kind::reservoir || kind == Kind::trap) {
    const Quantity volume = table.needed("volume", limits::volume);
    if (table.has("volume") && volume.high <= 0.0)
      table.complain("volume", fmt::format("a {} needs a volume above nothing.", line::word(kind)));
    return volume;
  }
  if (line::is_source(kind) || kind == Kind::filter) return table.quantity_or("volume", limits::volume, 0.0, "none");
  return table.quantity("volume", limits::volume).value_or(Quantity(0.0));
}

void read_kind_keys(TableReader& table, Element& element) {
  switch (element.kind) {
    case Kind::pump:
    case Kind::ejector:
      element.pump = read_source(table, element.kind);
      break;
    case Kind::valve:
      element.valve = read_valve(table);
      break;
    case Kind::check_valve:
      element.cracking = table.quantity_or("cracking", limits::reading, 0.0, "none");
      break;
    case Kind::nozzle:
      element.rim = table.quantity("rim", limits::bore);
      element.spacing = table.quantity("spacing", limits::spacing);
      break;
    case Kind::tube:
      element.wall = table.quantity("wall", limits::wall);
      element.modulus = table.quantity("modulus", limits::modulus);
      break;
    case Kind::rotary:
      // What its seal rubs belongs to [twist], which looks for it here (read/twist_file.hpp).
      table.quantity("friction", limits::seal_friction);
      break;
    default:
      break;
  }
}

void check_rim(TableReader& table, const Element& element) {
  const auto* bore = std::get_if<line::Bore>(&element.restriction);
  if (!element.rim || bore == nullptr || bore->bore.value <= 0.0) return;
  if (element.rim->value <= bore->bore.value) {
    table.complain(table.has_own("rim") ? "rim" : "bore",
                   "the rim is the outer diameter of the nozzle's mouth; it must be larger than the bore.");
  }
}

}  // namespace

Element read_element(TableReader& table, const std::string& name, Kind kind, double site_pressure) {
  Element element;
  element.name = name;
  element.kind = kind;
  element.where = table.where("name");
  read_place(table, element);
  element.restriction = read_restriction(table, kind);
  element.leaks = read_leaks(table, site_pressure);
  element.volume = read_volume(table, kind);
  element.gauge = read_gauge(table);
  if (const auto effort = table.quantity("effort", limits::effort)) element.effort = effort->value;
  read_kind_keys(table, element);
  check_rim(table, element);
  table.refuse_unknown_keys(fmt::format("{} {}", kind == Kind::ejector ? "an" : "a", line::word(kind)));
  return element;
}

}  // namespace airtally::read
