#include "report/table.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <sstream>

#include "report/width.hpp"

using namespace airtally::report;

namespace {

std::vector<std::string> rows_of(const std::string& text) {
  std::vector<std::string> all;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) all.push_back(line);
  return all;
}

}  // namespace

TEST_CASE("numbers line up on the right and words on the left", "[report][property]") {
  Table table({{"element", "", true}, {"vacuum", "kPa"}});
  table.add({"pump", "52.3"});
  table.add({"Düse", "9.1"});
  table.rule();
  table.add({"all", "1"});
  CHECK(table.text(Style{.ascii = true}) ==
        "element  vacuum\n"
        "            kPa\n"
        "---------------\n"
        "pump       52.3\n"
        "Düse        9.1\n"
        "---------------\n"
        "all           1\n");
}

TEST_CASE("a table with long names fits 80 columns and keeps its numbers", "[report][property]") {
  Table table({{"element", "", true}, {"at", "", true}, {"vacuum", "kPa"}, {"flow", "L/min"}});
  table.add(
      {std::string(90, 'x') + " 1", "真空真空真空真空真空真空真空真空真空真空真空真空真空真空真空", "52.31", "0.123"});
  table.add({"Rohr für die Düse links außen hinten oben, zweite Bank, Nummer 3", "gauge", "1.00", "10.000"});
  for (const std::string& line : rows_of(table.text({}))) {
    CAPTURE(line);
    CHECK(width(line) <= 80);
    CHECK((line.empty() || line.back() != ' '));
  }
  CHECK(table.text({}).find("52.31   0.123") != std::string::npos);
  CHECK(table.text({}).find("Nummer 3") != std::string::npos);
}

TEST_CASE("rows that differ in nothing but their name become one", "[report][property]") {
  Table same({{"tip", "", true}, {"vacuum"}}), different({{"tip", "", true}, {"vacuum"}});
  for (const char* name : {"a", "b"}) same.add({name, "1.0"});
  different.add({"a", "1.0"});
  different.add({"b", "1.1"});
  same.merge_alike("all 2");
  different.merge_alike("all 2");
  CHECK(rows_of(same.text({})).size() == 3);
  CHECK(same.text({}).find("all 2") != std::string::npos);
  CHECK(rows_of(different.text({})).size() == 4);
}

TEST_CASE("there is no colour unless it is asked for", "[report][property]") {
  Table table({{"tip", "", true}});
  table.add({"a"}, true);
  CHECK(table.text({}).find('\x1b') == std::string::npos);
  CHECK(table.text({.colour = true}).find("\x1b[1;36ma\x1b[0m") != std::string::npos);
}

TEST_CASE("a bar ends at the eighth of a column nearest to its value", "[report]") {
  const Style style, ascii{.ascii = true};
  CHECK(bar({0.0, 1.0}, 4, style) == "████");
  CHECK(bar({0.0, 0.5}, 4, style) == "██");
  CHECK(bar({0.0, 0.40625}, 4, style) == "█▋");
  CHECK(bar({0.0, 0.5}, 4, ascii) == "==");
  CHECK(bar({0.5, 1.0}, 4, style) == "  ██");
  CHECK(bar({1.0, 0.5}, 4, style) == "  ██");
  CHECK(bar({0.0, 1e-9}, 4, style) == "▏");
  CHECK(bar({1.0 - 1e-9, 1.0}, 4, ascii) == "   =");
  CHECK(bar({-3.0, 7.0}, 4, ascii) == "====");
  CHECK(bar({0.0, 0.0}, 4, style).empty());
  CHECK(bar({0.0, std::nan("")}, 4, style).empty());
}

TEST_CASE("bars take the room that a table leaves, and only that", "[report][property]") {
  const Style ascii{.ascii = true};
  Table table({{"element", "", true}, {"share", "kPa"}});
  table.add({"joint", "3.0"});
  table.add({"none", "0.0"});
  table.rule();
  table.add({"all", "4.0"});
  table.draw({{0.0, 0.75}, {0.75, 0.75}, {0.0, 1.0}});
  CHECK(table.text(ascii, 26) ==
        "element  share\n"
        "           kPa\n"
        "--------------\n"
        "joint      3.0  ========\n"
        "none       0.0\n"
        "--------------\n"
        "all        4.0  ==========\n");
  for (const std::string& line : rows_of(table.text(ascii, 200))) CHECK(width(line) <= 16 + 32);
  CHECK(table.text(ascii, 25).find('=') == std::string::npos);
}
