// docs/line-format.schema.json knows the keys that the reader knows, table by table, and no others. The reader is asked
// by a key that it can't know: its complaint lists those it does.
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "line/element.hpp"
#include "read/line_file.hpp"
#include "read/others_file.hpp"
#include "read/twist_file.hpp"

using namespace airtally;
using Json = nlohmann::json;
using Keys = std::set<std::string>;

namespace {

const Json& schema() {
  static const Json all = Json::parse(std::ifstream(AIRTALLY_SOURCE_DIR "/docs/line-format.schema.json"));
  return all;
}

const std::string unknown = "qqqqqqqqqqqqqqqqqq";

/// What `read` says is allowed where the text that it reads holds the unknown key.
template <typename Read>
Keys known_to(Read read) {
  try {
    read();
  } catch (const BadInput& error) {
    for (const Complaint& complaint : error.complaints()) {
      const std::string& said = complaint.sentence;
      const std::string mark = "Allowed: ";
      const auto at = said.find(mark);
      if (said.find(unknown) == std::string::npos || at == std::string::npos) continue;
      Keys keys;
      std::string list = said.substr(at + mark.size());
      list.pop_back();  // the stop
      for (std::size_t from = 0; from < list.size();) {
        const std::size_t end = std::min(list.find(", ", from), list.size());
        keys.insert(list.substr(from, end - from));
        from = end + 2;
      }
      return keys;
    }
    FAIL("no list of keys in: " << error.what());
  }
  FAIL("the unknown key was accepted");
  return {};
}

Keys known_to_reader(const std::string& text) {
  return known_to([&] { read::read_line_text(text, "probe"); });
}

Keys keys_of(const Json& table) {
  Keys keys;
  for (const auto& [key, value] : table.at("properties").items()) keys.insert(key);
  REQUIRE(table.at("additionalProperties") == false);
  return keys;
}

const Json& at(const std::string& pointer) { return schema().at(Json::json_pointer(pointer)); }

std::string element(std::string_view kind, const std::string& more) {
  return fmt::format("format = 1\n[[element]]\nname = \"e\"\nkind = \"{}\"\n{}\n", kind, more);
}
std::string top(const std::string& table, const std::string& more) {
  return "format = 1\n[" + table + "]\n" + more + "\n";
}

}  // namespace

TEST_CASE("the schema knows the keys of each kind that the reader knows", "[read][docs][property]") {
  const Json& rules = at("/$defs/element/allOf");
  for (const std::string_view kind : line::kind_words()) {
    CAPTURE(kind);
    Keys listed;
    for (const Json& rule : rules) {
      if (rule["if"].value("/properties/kind/const"_json_pointer, "") != kind) continue;
      if (!rule["then"].contains("propertyNames")) continue;
      for (const Json& key : rule["then"]["propertyNames"]["enum"]) listed.insert(key.get<std::string>());
    }
    CHECK(listed == known_to_reader(element(kind, unknown + " = 1")));
    for (const std::string& key : listed) CHECK(at("/$defs/element/properties").contains(key));
  }
  Keys all;
  for (const std::string_view kind : line::kind_words()) all.merge(known_to_reader(element(kind, unknown + " = 1")));
  CHECK(keys_of(at("/$defs/element")) == all);
  const Json& kinds = at("/$defs/element/properties/kind/enum");
  CHECK(Keys(kinds.begin(), kinds.end()) == Keys(line::kind_words().begin(), line::kind_words().end()));
}

TEST_CASE("the schema takes the same keys beside a switch as the reader", "[read][docs][property]") {
  Keys listed;
  for (const Json& key : at("/properties/sensor/then/propertyNames/enum")) listed.insert(key.get<std::string>());
  CHECK(listed ==
        known_to_reader(top("sensor", "switch = { on = \"45 kPa\", hysteresis = \"2 kPa\" }\n" + unknown + " = 1")));
}

TEST_CASE("the schema knows the keys of each table that the reader knows", "[read][docs][property]") {
  const std::string q = unknown + " = 1";
  const std::vector<std::pair<std::string, std::string>> tables{
      {"", "format = 1\n" + q + "\n"},
      {"/properties/site", top("site", q)},
      {"/properties/part", top("part", q)},
      {"/properties/part/properties/porosity", top("part", "porosity = { " + q + " }")},
      {"/properties/move", top("move", q)},
      {"/properties/move/properties/safety", top("move", "safety = { " + q + " }")},
      {"/properties/cycle", top("cycle", q)},
      {"/$defs/head", top("cycle", "head = [{ " + q + " }]")},
      {"/properties/sensor", top("sensor", q)},
      {"/properties/sensor/properties/tube", top("sensor", "tube = { " + q + " }")},
      {"/properties/sensor/properties/amplifier", top("sensor", "amplifier = { kind = \"difference\", " + q + " }")},
      {"/properties/sensor/properties/adc", top("sensor", "adc = { " + q + " }")},
      {"/properties/sensor/properties/switch", top("sensor", "switch = { " + q + " }")},
      {"/$defs/leak/oneOf/0", element("tube", "leak = { hole = \"1 mm\", " + q + " }")},
      {"/$defs/leak/oneOf/1", element("tube", "leak = { clearance = \"1 um\", " + q + " }")},
      {"/$defs/rated-leak", element("tube", "leak = { rated = \"1 mL/min\", " + q + " }")},
      {"/$defs/element/properties/gauge", element("tee", "gauge = { " + q + " }")},
      {"/$defs/element/properties/gauge/properties/tube", element("tee", "gauge = { tube = { " + q + " } }")},
      {"/$defs/element/properties/ripple", element("pump", "ripple = { " + q + " }")},
      {"/$defs/element/properties/vent", element("valve", "vent = { " + q + " }")},
      {"/$defs/element/properties/blow-off", element("valve", "blow-off = { " + q + " }")},
      {"/$defs/element/properties/rated", element("filter", "rated = { " + q + " }")},
  };
  for (const auto& [where, text] : tables) {
    CAPTURE(where);
    const Json& table = at(where);
    CHECK(keys_of(table.contains("$ref") ? at(table["$ref"].get<std::string>().substr(1)) : table) ==
          known_to_reader(text));
  }
}

TEST_CASE("the schema knows the keys of [twist] and of other parts and nozzles", "[read][docs][property]") {
  const std::string q = unknown + " = 1";
  const auto twist = [](const std::string& text) {
    return known_to([&] { read::read_twist_text(text, "probe", {}, {}); });
  };
  CHECK(keys_of(at("/properties/twist")) == twist(top("twist", q)));
  CHECK(keys_of(at("/properties/twist/properties/tube")) == twist(top("twist", "tube = { " + q + " }")));
  CHECK(keys_of(at("/properties/twist/properties/motor")) == twist(top("twist", "motor = { " + q + " }")));
  const auto others = [](const std::string& text) {
    return known_to([&] { read::read_others_text(text, "probe", 101325.0, {}, {}); });
  };
  CHECK(keys_of(at("/properties/part")) == others("format = 1\n[[other-part]]\nname = \"p\"\n" + q + "\n"));
  CHECK(keys_of(at("/$defs/other-nozzle")) == others("format = 1\n[[other-nozzle]]\nname = \"n\"\n" + q + "\n"));
}
