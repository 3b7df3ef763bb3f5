#include "line/builder.hpp"

#include <catch2/catch.hpp>

#include "read/line_file.hpp"
#include "solve/answer.hpp"
#include "study/rank.hpp"

using namespace airtally;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinRel;

namespace {

/// The line of tests/consumer/example.cpp, written as a file.
const char* const as_file = R"toml(format = 1
title = "A bench"
site = { altitude = "340 m" }
element = [
  { name = "pump", kind = "pump", curve = [["0 kPa", "8 L/min"], ["71 kPa", "0 L/min"]] },
  { name = "hose", kind = "tube", bore = "2.5 mm", length = "0.8 m", leak = { rated = "900 mL/min", at = "60 kPa" } },
  { name = "tee", kind = "tee", volume = "1 mL", gauge = { accuracy = "0.5 kPa", resolution = "0.1 kPa" } },
  { name = "valve", kind = "valve", conductance = "0.3 dm3/(s bar)" },
  { name = "filter", kind = "filter", rated = { flow = "6 L/min", drop = "2 kPa" } },
  { name = "joint", kind = "rotary", bore = "2 mm", length = "22 mm", leak = [{ hole = "0.08 mm" }, { clearance = "20..45 um", diameter = "5 mm", length = "4 mm", eccentricity = 0.5 }] },
  { name = "nozzle", kind = "nozzle", bore = "1 mm", length = "6 mm", rim = "1.8 mm" },
  { name = "side", kind = "tube", after = "tee", bore = "1 mm", length = "0.1 m" },
  { name = "end", kind = "plug" },
]
part = { mass = "12 mg", gap = "4 um" }
)toml";

line::Builder in_code() {
  line::Builder builder("A bench");
  builder.altitude("340 m")
      .pump("pump", {{"0 kPa", "8 L/min"}, {"71 kPa", "0 L/min"}})
      .tube("hose", 2.5e-3, 0.8)
      .leak_rated("900 mL/min", 60e3)
      .tee("tee", "1 mL")
      .gauge("0.5 kPa", 100.0)
      .valve("valve", "0.3 dm3/(s bar)")
      .filter("filter", "6 L/min", "2 kPa")
      .rotary("joint", "2 mm", "22 mm")
      .leak_hole("0.08 mm")
      .leak_clearance("20..45 um", "5 mm", "4 mm", 0.5)
      .nozzle("nozzle", "1 mm", "6 mm", "1.8 mm")
      .tube("side", "1 mm", "0.1 m")
      .after("tee")
      .plug("end")
      .part("12 mg", "4 um");
  return builder;
}

}  // namespace

TEST_CASE("a line described in code is the line described in a file", "[line][property]") {
  const line::Line file = read::read_line_text(as_file, "as_file");
  const line::Line code = in_code().build();
  REQUIRE(code.elements.size() == file.elements.size());
  CHECK(code.title == file.title);
  CHECK(code.site.pressure == file.site.pressure);
  const auto& leak = std::get<line::Clearance>(code.elements[5].leaks.at(1));
  CHECK(leak.gap.low == std::get<line::Clearance>(file.elements[5].leaks.at(1)).gap.low);
  const auto a = solve::steady(code, solve::usual_tips(code)), b = solve::steady(file, solve::usual_tips(file));
  for (std::size_t i = 0; i < a.elements.size(); ++i) {
    CAPTURE(code.elements[i].name);
    CHECK(code.elements[i].kind == file.elements[i].kind);
    CHECK(a.elements[i].vacuum == b.elements[i].vacuum);
  }
  CHECK(a.tips.front().state == solve::TipState::part);
}

TEST_CASE("a trap in code has what it is given, and its bowl", "[line][property]") {
  const line::Line line = line::Builder()
                              .pump("pump", {{"0 kPa", "8 L/min"}, {"71 kPa", "0 L/min"}})
                              .trap("trap", "8 L/min", "0.4 kPa", "12..20 mL")
                              .nozzle("nozzle", "1 mm", "6 mm", "1.8 mm")
                              .build();
  const line::Element& trap = line.elements[1];
  CHECK(trap.kind == line::Kind::trap);
  CHECK_THAT(std::get<line::RatedDrop>(trap.restriction).flow.value, WithinRel(8.0 * 1.185 / 60e3, 1e-12));
  CHECK_THAT(std::get<line::RatedDrop>(trap.restriction).drop.value, WithinRel(400.0, 1e-12));
  CHECK_THAT(trap.volume.low, WithinRel(12e-6, 1e-12));
  CHECK_THAT(trap.volume.high, WithinRel(20e-6, 1e-12));
}

TEST_CASE("what can't be a line is refused where it is built", "[line][property]") {
  CHECK_THROWS_WITH(line::Builder().tube("hose", "4 kPa", "1 m"), Contains("'4 kPa': "));
  CHECK_THROWS_AS(line::Builder().after("pump"), std::logic_error);
  CHECK_THROWS_AS(line::Builder().tube("hose", "4 mm", "1 m").build(), BadInput);
  CHECK_THROWS_AS(in_code().tube("hose", "4 mm", "1 m").build(), BadInput);  // a name twice
}
