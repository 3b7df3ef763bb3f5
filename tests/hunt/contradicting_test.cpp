#include "hunt/readings/contradicting.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "hunt/bench.hpp"
#include "hunt/hunt.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Contains;

TEST_CASE("a hunt tells of readings that can't both be right", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  Readings readings;
  readings.list = {tests::capped(line, "filter", 62e3), tests::capped(line, "joint", 66e3)};
  readings.list[1].where = {"r.toml", 7, 1};
  const std::vector<solve::TipState> tips = solve::usual_tips(line);
  const std::vector<std::string> said = contradicting(line, readings, tips);
  REQUIRE(said.size() == 1);
  CHECK_THAT(said.front(), Contains("r.toml:7:1: 66.0 kPa contradicts 62.0 kPa, with less of the line on the pump."));
  HuntOptions options;
  options.quick = true;
  const std::vector<std::string> remarks = hunt::hunt(line, readings, options).remarks;
  CHECK(std::count(remarks.begin(), remarks.end(), said.front()) == 1);
  readings.list[1].value = 60e3;
  CHECK(contradicting(line, readings, tips).empty());
  // A drilled plate lets in what it does.
  readings.list[0].value = 50e3;
  readings.list[0].setting.hole = 0.8e-3;
  CHECK(contradicting(line, readings, tips).empty());
}
