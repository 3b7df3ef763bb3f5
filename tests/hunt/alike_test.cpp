// Elements that nothing tells apart are believed alike.
#include "hunt/verdict/alike.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "hunt/hunt.hpp"
#include "read/line_file.hpp"
#include "report/hunt_text.hpp"
#include "solve/answer.hpp"

using namespace airtally;
using namespace airtally::hunt;

namespace {

Reading whole(const line::Line& line, std::vector<solve::TipState> tips, double vacuum) {
  Reading reading;
  reading.setting = {{}, 0.0, std::move(tips)};
  reading.at = *line::find(line, "gauge tee");
  reading.value = vacuum;
  return reading;
}

}  // namespace

TEST_CASE("a reading that treats one needle otherwise takes it out of its like", "[hunt]") {
  const line::Line line = read::read_line(std::string(AIRTALLY_LINES) + "/seed-tray.toml");
  const auto at = [&](const char* name) { return *line::find(line, name); };
  const std::vector<solve::TipState> usual = solve::usual_tips(line);
  std::vector<Reading> readings{whole(line, usual, 65e3)};
  CHECK(alike(line, readings, usual) ==
        std::vector<std::vector<std::size_t>>{{at("needle 1"), at("needle 2"), at("needle 3"), at("needle 4")},
                                              {at("needle 5"), at("needle 6"), at("needle 7"), at("needle 8")}});
  std::vector<solve::TipState> first_open = usual;
  first_open.front() = solve::TipState::open;
  readings.push_back(whole(line, first_open, 60e3));
  CHECK(alike(line, readings, usual) ==
        std::vector<std::vector<std::size_t>>{{at("needle 2"), at("needle 3"), at("needle 4")},
                                              {at("needle 5"), at("needle 6"), at("needle 7"), at("needle 8")}});
  readings.pop_back();
  readings.push_back(whole(line, usual, 60e3));
  readings.back().setting.cap = at("needle 6");
  CHECK(alike(line, readings, usual).back() ==
        std::vector<std::size_t>{at("needle 5"), at("needle 7"), at("needle 8")});
  CHECK(alike(line, {}, first_open).front() ==
        std::vector<std::size_t>{at("needle 2"), at("needle 3"), at("needle 4")});
}

TEST_CASE("what is found of one needle is found of each", "[hunt][property]") {
  const line::Line line = read::read_line(std::string(AIRTALLY_LINES) + "/seed-tray.toml");
  const std::vector<solve::TipState> usual = solve::usual_tips(line);
  HuntOptions options;
  options.quick = true;
  // A needle of bank A leaks 1 L/min.
  const Hunt found = hunt::hunt(
      line,
      {{whole(line, solve::all_tips(line, solve::TipState::blocked), 74.6e3), whole(line, usual, 61.0e3)}, {}, {}},
      options);
  REQUIRE(found.alike.size() == 2);
  for (const std::vector<std::size_t>& group : found.alike) {
    std::vector<const Finding*> same;
    for (const Finding& finding : found.elements)
      if (std::find(group.begin(), group.end(), finding.element) != group.end()) same.push_back(&finding);
    REQUIRE(same.size() == 4);
    for (const Finding* one : same) {
      CHECK(one->worst_probability == same.front()->worst_probability);
      CHECK(one->leak.high == same.front()->leak.high);
      CHECK(one->cost.median == same.front()->cost.median);
      CHECK(one->open_fraction->low == same.front()->open_fraction->low);
    }
  }
  double sum = 0.0;
  for (const Finding& finding : found.elements) sum += finding.worst_probability;
  CHECK(std::abs(sum - 1.0) < 1e-9);
  const std::string text = report::hunt_text(line, found, {});
  CHECK(text.find("needle 1 to needle 4") != std::string::npos);
  CHECK(text.find("\nneedle 2 ") == std::string::npos);  // no row of its own
  CHECK(text.find("several that are alike") != std::string::npos);
}
