// The tables of docs/hand-estimates.md: what the program says today stands in the last column, digit for digit, and the
// hand estimate is as near as the page claims.
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <sstream>

#include "lines/lines.hpp"
#include "study/hold.hpp"
#include "study/rise.hpp"

using namespace airtally;
using solve::TipState;

namespace {

constexpr double litre_per_min = 1.185 / 60e3;  // kg/s

/// The cells of the row that begins with `name`, in the table whose head begins with `table`.
std::vector<std::string> row_of(const std::string& table, const std::string& name) {
  std::ifstream in(AIRTALLY_SOURCE_DIR "/docs/hand-estimates.md");
  bool inside = false;
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with("| " + table + " |")) inside = true;
    if (line.empty()) inside = false;
    if (!inside || !line.starts_with("| " + name + " |")) continue;
    std::vector<std::string> cells;
    std::stringstream rest(line.substr(2));
    for (std::string cell; std::getline(rest, cell, '|');) {
      const auto begin = cell.find_first_not_of(' ');
      if (begin != std::string::npos) cells.push_back(cell.substr(begin, cell.find_last_not_of(' ') - begin + 1));
    }
    return cells;
  }
  return {};
}

void check_row(const std::string& table, const std::string& name, double value, int decimals) {
  CAPTURE(table, name, value);
  const std::vector<std::string> cells = row_of(table, name);
  REQUIRE(cells.size() == 4);
  CHECK(cells[3] == fmt::format("{:.{}f}", value, decimals));
  CHECK(std::abs(std::stod(cells[1]) - value) <= std::stod(cells[2]) / 100.0 * value);
}

}  // namespace

TEST_CASE("hand estimates of the jewel setter stand beside the program's numbers", "[docs][lines][regression]") {
  const std::string table = "jewel-setter";
  const line::Line line = test::scenario(table);
  const solve::SteadyAnswer part = solve::steady(line, solve::all_tips(line, TipState::part));
  const auto at = [&](const char* name) { return part.elements[line::find(line, name).value()]; };
  check_row(table, "tip vacuum, part on [kPa]", part.tips.front().mouth_vacuum / 1e3, 1);
  check_row(table, "vacuum at the pump [kPa]", at("pump").vacuum / 1e3, 1);
  check_row(table, "joint leaks [L/min]", at("rotary joint").leak / litre_per_min, 2);
  check_row(table, "drop of the supply hose [kPa]", at("supply hose").drop / 1e3, 2);
  check_row(table, "drop of the valve [kPa]", at("valve").drop / 1e3, 2);
  check_row(table, "drop of the filter [kPa]", at("filter").drop / 1e3, 2);
  check_row(table, "drop of the head hose [kPa]", at("head hose").drop / 1e3, 2);
  check_row(table, "part leaks [mL/min]", part.tips.front().flow / litre_per_min * 1e3, 1);
  const solve::SteadyAnswer open = solve::steady(line, solve::all_tips(line, TipState::open));
  check_row(table, "open nozzle passes, at the vacuum behind it [L/min]", open.tips.front().flow / litre_per_min, 1);
  check_row(table, "heaviest part [g]", study::hold(line).tips.front().heaviest * 1e3, 2);
}

TEST_CASE("hand estimates of the twisted tube stand beside the program's numbers", "[docs][lines][regression]") {
  const std::string table = "jewel-setter-twist";
  const line::Line line = test::scenario(table);
  const auto tips = solve::all_tips(line, TipState::part);
  const solve::SteadyAnswer part = solve::steady(line, tips);
  check_row(table, "tip vacuum, part on [kPa]", part.tips.front().mouth_vacuum / 1e3, 1);
  check_row(table, "all leaks [mL/min]", part.sources.front().flow / litre_per_min * 1e3, 0);
  check_row(table, "settle time, straight pump line [ms]", study::rise(line, tips).settle * 1e3, 0);
  check_row(table, "heaviest part [g]", study::hold(line).tips.front().heaviest * 1e3, 2);
}
