#include "read/twist_file.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "read/angles_file.hpp"
#include "read/change_private.hpp"
#include "read/table_reader_private.hpp"
#include "read/toml_file_private.hpp"
#include "read/turn_limits_private.hpp"
#include "units/parse.hpp"

namespace airtally::read {
namespace {

// Wide enough for anything that turns a nozzle, narrow enough to catch a slip of the unit. Common practice, no source.
constexpr Limits limit{Dimension::angle, 0.01, 700.0, "0.01 rad .. 700 rad"};
constexpr Limits strain{Dimension::number, 0.001, 3.0, "0.001 .. 3"};
constexpr Limits bend{Dimension::length, 1e-4, 10.0, "0.1 mm .. 10 m"};
constexpr Limits motor_speed{Dimension::angular_speed, 1e-3, 1e4, "0.001 rad/s .. 10000 rad/s"};
constexpr Limits motor_acceleration{Dimension::angular_acceleration, 1e-2, 1e6, "0.01 rad/s2 .. 1000000 rad/s2"};
constexpr Limits torque{Dimension::torque, 0.0, 100.0, "0 N m .. 100 N m"};
constexpr Limits inertia{Dimension::inertia, 0.0, 1.0, "0 kg m2 .. 1 kg m2"};
constexpr Limits travel_time{Dimension::time, 0.0, 600.0, "0 s .. 600 s"};

/// A value without tolerance or range: the bands are drawn from the line, and this is no part of it.
double needed(TableReader& table, std::string_view key, const Limits& limits) {
  return table.single(key, table.needed(key, limits));
}

class TwistReader {
 public:
  TwistReader(toml::table file, std::string name, std::vector<std::filesystem::path> catalogues,
              const std::vector<Change>& changes)
      : file_(std::move(file)),
        name_(name),
        complaints_(std::move(name)),
        catalogue_(std::move(catalogues), complaints_) {
    apply(changes, file_, catalogue_, complaints_);
  }

  std::optional<line::Twist> read() {
    TableReader top(file_, "line", complaints_);
    const auto found = top.table("twist");
    if (!found) {
      complaints_.throw_if_any();
      return std::nullopt;
    }
    TableReader table(found->raw(), "twist", complaints_, &twist_.assumed);
    twist_.where = table.where();
    read_places(table);
    read_tube(table);
    twist_.limit = needed(table, "limit", limit);
    twist_.strain = table.single(
        "strain", table.quantity_or("strain", strain, twist_.strain, "0.2 (common practice for soft tube)"));
    twist_.bend = table.single("bend", bend);
    read_motor(table);
    read_angles(table);
    twist_.pick = table.single("pick-angle", limits::turn);
    if (!twist_.pick) table.assume("pick-angle not given: any, the nozzle is round");
    twist_.carry = table.single("carry", travel_time);
    twist_.back = table.single("back", travel_time);
    twist_.wait_for = table.single("wait-for", limits::vacuum);
    if (!twist_.wait_for) table.assume("wait-for not given: the vacuum that the moves need");
    table.refuse_unknown_keys("[twist]");
    find_friction(top);
    complaints_.throw_if_any();
    return std::move(twist_);
  }

 private:
  void read_places(TableReader& table) {
    table.know("at");
    twist_.at_where = table.has("at") ? table.where("at") : table.where();
    const toml::node* node = table.raw().get("at");
    if (node == nullptr) return;
    const auto* list = node->as_array();
    const auto add = [&](const toml::node& one) {
      if (const auto* text = one.as_string())
        twist_.at.push_back(text->get());
      else
        table.complain("at", "at must be the name of an element between quotes, or a list of names.");
    };
    if (list == nullptr) return add(*node);
    for (const toml::node& one : *list) add(one);
  }

  void read_tube(TableReader& table) {
    const auto raw = table.table("tube");
    if (!raw) return;
    TableReader own(raw->raw(), "twist: tube", complaints_);
    const toml::table* entry = nullptr;
    if (const auto use = own.text("use")) entry = catalogue_.find(*use, own.where("use"), "twist: tube");
    if (own.has("use") && entry == nullptr) return;
    TableReader inside(raw->raw(), "twist: tube", complaints_, &twist_.assumed, entry);
    twist_.tube = line::TwistTube{needed(inside, "bore", limits::bore), needed(inside, "length", limits::length),
                                  needed(inside, "wall", limits::wall), needed(inside, "modulus", limits::modulus)};
    // What else an entry of the catalogue says of a tube does not matter here.
    for (const char* key : {"use", "name", "kind", "roughness", "leak", "volume"}) inside.know(key);
    inside.refuse_unknown_keys("a tube that twists");
  }

  void read_motor(TableReader& table) {
    auto inside = table.table("motor");
    if (!inside) {
      if (!table.has("motor"))
        table.complain_here("needs 'motor', such as motor = { speed = \"600 rpm\", acceleration = \"2000 rad/s2\" }.");
      return;
    }
    twist_.motor.speed = needed(*inside, "speed", motor_speed);
    twist_.motor.acceleration = needed(*inside, "acceleration", motor_acceleration);
    twist_.motor.torque = inside->single("torque", torque);
    twist_.motor.inertia = inside->single("inertia", inertia);
    inside->refuse_unknown_keys("'motor'");
  }

  void read_angles(TableReader& table) {
    table.know("angles");
    const toml::node* node = table.raw().get("angles");
    if (node == nullptr) return table.assume("angles not given: uniform, every angle as likely as any other");
    if (const auto* list = node->as_array()) return read_list(table, *list);
    const std::string text = table.text("angles").value_or("uniform");
    if (text == "uniform") return;
    if (text.ends_with(".csv")) {
      twist_.angles = read::read_angles(std::filesystem::path(name_).parent_path() / text);
      return;
    }
    table.complain("angles", fmt::format("angles = \"{}\" is neither \"uniform\", a list such as [\"0 deg\", \"90 "
                                         "deg\"], nor the name of a .csv file.",
                                         text));
  }

  void read_list(TableReader& table, const toml::array& list) {
    if (list.empty()) table.complain("angles", "the list of angles is empty; leave it out for uniform ones.");
    for (const toml::node& one : list) {
      const auto* text = one.as_string();
      if (text == nullptr) {
        table.complain("angles", "each of the angles must be a text with its unit, such as \"90 deg\".");
        continue;
      }
      try {
        const Quantity angle = units::parse(text->get(), Dimension::angle);
        if (!angle.is_exact() || angle.low < limits::turn.low || angle.high > limits::turn.high)
          table.complain("angles", fmt::format("'{}' must be a single angle of {}.", text->get(), limits::turn.words));
        twist_.angles.push_back(angle.value);
      } catch (const units::UnitError& error) {
        table.complain("angles", fmt::format("angles: {}", error.what()));
      }
    }
  }

  /// What the seal of the joint that is there rubs, of several the most: a key of its element, which the line itself
  /// has no use for.
  void find_friction(TableReader& top) {
    for (const TableReader& found : top.tables("element")) {
      const toml::table& element = found.raw();
      const auto use = element["use"].value<std::string>();
      const toml::table* entry = use ? catalogue_.look_up(*use) : nullptr;
      std::string kind = element["kind"].value_or(std::string());
      if (kind.empty() && entry != nullptr) kind = (*entry)["kind"].value_or(std::string());
      const auto name = element["name"].value_or(std::string());
      const bool meant = twist_.at.empty() || std::find(twist_.at.begin(), twist_.at.end(), name) != twist_.at.end();
      if (kind != line::word(line::Kind::rotary) || !meant) continue;
      TableReader reader(element, "element", complaints_, nullptr, entry);
      if (const auto friction = reader.quantity("friction", torque))
        twist_.friction = std::max(twist_.friction.value_or(0.0), friction->value);
      if (twist_.at.empty()) return;  // the first is meant
    }
  }

  toml::table file_;
  std::string name_;
  Complaints complaints_;
  Catalogue catalogue_;
  line::Twist twist_;
};

}  // namespace

std::optional<line::Twist> read_twist_text(std::string_view text, const std::string& name,
                                           const std::vector<std::filesystem::path>& catalogues,
                                           const std::vector<Change>& changes) {
  return TwistReader(parse_toml(text, name), name, catalogues, changes).read();
}

std::optional<line::Twist> read_twist(const std::filesystem::path& file,
                                      const std::vector<std::filesystem::path>& catalogues,
                                      const std::vector<Change>& changes) {
  return read_twist(line_text(file), catalogues, changes);
}

std::optional<line::Twist> read_twist(const LineText& file, const std::vector<std::filesystem::path>& catalogues,
                                      const std::vector<Change>& changes) {
  return read_twist_text(file.text, file.name, catalogues_of(file, catalogues), changes);
}

}  // namespace airtally::read
