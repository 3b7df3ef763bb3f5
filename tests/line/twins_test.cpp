// Which branches of a line are alike.
#include "line/twins.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "line/variant.hpp"
#include "read/line_file.hpp"

using namespace airtally;

namespace {

line::Line named(const std::string& name, const std::vector<std::string>& changes = {}) {
  std::vector<read::Change> all;
  for (const std::string& change : changes) all.push_back(read::change_of(change));
  return read::read_line(std::string(AIRTALLY_LINES) + "/" + name + ".toml", {}, all);
}

std::vector<std::string> heads(const line::Line& line, const line::Twins& twins) {
  std::vector<std::string> names;
  for (const std::vector<std::size_t>& branch : twins) names.push_back(line.elements[branch.front()].name);
  return names;
}

}  // namespace

TEST_CASE("needles of one bank are twins, the banks are not", "[line]") {
  const line::Line line = named("seed-tray");  // the banks hang on hoses of different length
  const std::vector<line::Twins> found = line::twins(line, line::topology(line));
  REQUIRE(found.size() == 2);
  CHECK(heads(line, found[0]) == std::vector<std::string>{"needle 1", "needle 2", "needle 3", "needle 4"});
  CHECK(heads(line, found[1]) == std::vector<std::string>{"needle 5", "needle 6", "needle 7", "needle 8"});
}

TEST_CASE("whole branches are twins, element by element", "[line]") {
  const line::Line line = named("seed-tray", {"hose B.length=0.3 m"});
  const std::vector<line::Twins> found = line::twins(line, line::topology(line));
  REQUIRE(found.size() == 3);
  const line::Twins* banks = nullptr;
  for (const line::Twins& one : found)
    if (one.front().size() > 1) banks = &one;
  REQUIRE(banks != nullptr);
  CHECK(heads(line, *banks) == std::vector<std::string>{"valve A", "valve B"});
  for (std::size_t k = 0; k < banks->front().size(); ++k)
    CHECK(line.elements[(*banks)[0][k]].kind == line.elements[(*banks)[1][k]].kind);
}

TEST_CASE("what differs in one value, its tolerance or its state is no twin", "[line]") {
  for (const char* change : {"needle 2.bore=0.41 mm", "needle 2.length=20 +- 1 mm",
                             "needle 2.leak={ rated = \"1 mL/min\", at = \"60 kPa\" }"}) {
    CAPTURE(change);
    const line::Line line = named("seed-tray", {change});
    const std::vector<line::Twins> found = line::twins(line, line::topology(line));
    REQUIRE(found.size() == 2);
    CHECK(heads(line, found[0]) == std::vector<std::string>{"needle 1", "needle 3", "needle 4"});
  }
  CHECK(line::twins(named("jewel-setter"), line::topology(named("jewel-setter"))).empty());
}
