#include "study/nozzle_notes.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "lines/lines.hpp"
#include "study/cycle.hpp"
#include "study/hold.hpp"

using namespace airtally;
using study::NozzleNotes;

TEST_CASE("a note that many nozzles deserve is said once", "[study][property]") {
  const line::Line line = test::scenario("seed-tray");
  const auto nozzles = line::all_of(line, line::Kind::nozzle);
  REQUIRE(nozzles.size() == 8);
  const std::string sticks = std::string(NozzleNotes::who) + " sticks";
  const auto said_of = [&](const std::vector<std::size_t>& of) {
    NozzleNotes notes;
    for (const std::size_t k : of) notes.add(nozzles[k], sticks);
    const auto all = notes.sentences(line);
    REQUIRE(all.size() == 1);
    return all.front();
  };
  CHECK(said_of({2}) == "nozzle 'needle 3' sticks");
  CHECK(said_of({0, 1}) == "each of nozzles 'needle 1' and 'needle 2' sticks");
  CHECK(said_of({0, 1, 4, 6}) == "each of nozzles 'needle 1', 'needle 2', 'needle 5' and 'needle 7' sticks");
  CHECK(said_of({0, 1, 2, 3, 4, 5, 6, 7}) == "each of nozzles 'needle 1' to 'needle 8' sticks");
  CHECK(said_of({3, 4, 5, 6}) == "each of nozzles 'needle 4' to 'needle 7' sticks");
  NozzleNotes unlike;
  unlike.add(nozzles[0], sticks);
  unlike.add(nozzles[1], "something else");
  unlike.add(nozzles[2], sticks);
  CHECK(unlike.sentences(line) ==
        std::vector<std::string>{"each of nozzles 'needle 1' and 'needle 3' sticks", "something else"});
}

TEST_CASE("a line of several nozzles says that each carries a part of its own", "[study][hold][cycle][property]") {
  const auto says = [](const std::vector<std::string>& notes) {
    return std::count_if(notes.begin(), notes.end(), [](const std::string& note) {
      return note.find("nozzles is taken to carry a part of its own") != std::string::npos;
    });
  };
  const line::Line tray = test::scenario("seed-tray"), sorter = test::scenario("two-spindle-sorter"),
                   single = test::scenario("jewel-setter");
  CHECK(says(study::hold(tray).notes) == 1);
  CHECK(says(study::hold(sorter).notes) == 1);
  CHECK(says(study::cycle(sorter).notes) == 1);
  CHECK(says(study::hold(single).notes) == 0);
  CHECK(says(study::cycle(single).notes) == 0);
}
