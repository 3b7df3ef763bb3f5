#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>

#include "read/line_file.hpp"
#include "units/unit.hpp"

namespace {

std::string line_format() {
  std::ifstream file(AIRTALLY_SOURCE_DIR "/docs/line-format.md");
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

// As a word of its own: behind a space and before a separator.
bool lists(const std::string& table, std::string_view symbol) {
  std::string wanted(" ");
  wanted += symbol;
  for (auto at = table.find(wanted); at != std::string::npos; at = table.find(wanted, at + 1)) {
    const std::string_view behind = std::string_view(table).substr(at + wanted.size());
    if (behind.starts_with(',') || behind.starts_with(';') || behind.starts_with(" |") || behind.starts_with(" ("))
      return true;
  }
  return false;
}

}  // namespace

TEST_CASE("the example of the format's description is a line", "[read][docs]") {
  const std::string text = line_format();
  const std::string fence = "```toml\n";
  const auto begin = text.find(fence);
  REQUIRE(begin != std::string::npos);
  const auto start = begin + fence.size();
  const airtally::line::Line line =
      airtally::read::read_line_text(text.substr(start, text.find("```", start) - start), "docs");
  CHECK(line.elements.size() == 7);
  CHECK(line.part);
}

TEST_CASE("the format's description names every unit", "[read][docs]") {
  const std::string all = line_format();
  const std::string table = all.substr(all.find("## Units"));
  for (const airtally::units::Unit& unit : airtally::units::all_units()) {
    CAPTURE(unit.symbol);
    if (unit.dimension != airtally::units::Dimension::number) CHECK(lists(table, unit.symbol));
  }
}
