// A part of the proof of the hunt; tests/agreement/hunt_study.cpp runs all of it and says what it found.
#include "agreement/hunt_proof.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "read/line_file.hpp"

using namespace airtally;

// 150 truths drawn from the prior, 26 unknowns each. Coverage of the central 90 %: the mark is 87 to 93 % for 500
// cases; for 150 the same mark is widened by twice the standard error of a proportion over 150 cases that count once
// each for every independent unknown, of which there are at least six (as many as settings read): sqrt(0.9 0.1/900)
// = 1.0 %. A rank histogram of 8 bins with 7 degrees of freedom exceeds 26.0 once in 2000 times (NIST/SEMATECH
// e-Handbook gives 24.322 for 0.001), so that the worst of 26 does once in a hundred runs.
TEST_CASE("nine in ten stated ranges hold truths drawn from the prior", "[hunt][proof][slow]") {
  const line::Line line = read::read_line(std::string(AIRTALLY_LINES) + "/jewel-setter.toml");
  const agreement::Calibration c = agreement::calibrate(line, 150, 1);
  INFO(agreement::text(c));
  CHECK(c.unsolved == 0);
  CHECK(c.coverage > 0.87 - 0.02);
  CHECK(c.coverage < 0.93 + 0.02);
  CHECK(c.worst_chi_square < 26.0);
  // Of 500 (seed 1) 1 to 3 said so, in part by the last digits of the peaks: more than 4 of 150 would be an accident
  // once in four hundred times.
  CHECK(c.doubtful <= 4);
}

// Faults planted at the elements in turn, 5 to 60 % of the tip's vacuum, one in eight with a second culprit. The mark
// for 500 cases is that 95 % of verdicts are right: of a dozen two wrong ones would be an accident once in nine times,
// and each is a case whose number says where to look. Seeds as the study first had them.
TEST_CASE("with all caps read the planted fault comes first", "[hunt][proof][slow]") {
  agreement::Planting how;
  how.cases = 12;
  how.seed = 43;
  how.gauge_at_source = true;
  how.lines = "jewel-setter-twist ejector-head";
  const agreement::Planted all = agreement::plant(how);
  INFO(agreement::text(all));
  for (const std::string& miss : all.misses) UNSCOPED_INFO(miss);
  REQUIRE(all.cases == 12);
  CHECK(all.first >= 11);
  CHECK(all.sure >= 9);
  CHECK(all.sure_right == all.sure);
}

TEST_CASE("the hunt's own advice leads to the planted fault, or says that it can't", "[hunt][proof][slow]") {
  agreement::Planting how;
  how.cases = 12;
  how.seed = 25;
  how.by_advice = true;
  how.plug_gauge = true;
  how.lines = "ejector-head";
  const agreement::Planted all = agreement::plant(how);
  INFO(agreement::text(all));
  for (const std::string& miss : all.misses) UNSCOPED_INFO(miss);
  REQUIRE(all.cases == 12);
  // Every leak. One case in four is a head hose that is narrow: on a line whose gauge is at its far end only a known
  // flow would part that from a clogged filter or a weak ejector, and a plate's is not known well enough.
  CHECK(all.sure >= 9);
  CHECK(all.sure_right >= all.sure - 1);
  std::vector<int> tests = all.tests;
  std::sort(tests.begin(), tests.end());
  CHECK(tests[tests.size() / 2] <= 3);  // the mark of the median
}
