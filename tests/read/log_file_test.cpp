#include "read/log_file.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "errors.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double ambient = 101325.0;

line::Log log_of(const std::string& text) { return read::read_log_text(text, "log.csv", ambient); }

std::string log_refused(const std::string& text) {
  try {
    log_of(text);
  } catch (const BadInput& e) {
    return e.what();
  }
  return "accepted";
}

void check_course(const line::Log& log, double tolerance = 1e-9) {
  REQUIRE(log.time.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK_THAT(log.time[i], WithinAbs(0.01 * static_cast<double>(i), 1e-15));
    CHECK_THAT(log.vacuum[i], WithinAbs(12.5e3 * static_cast<double>(i), tolerance));
  }
}

}  // namespace

TEST_CASE("a log reads the same in every dress", "[read][property]") {
  check_course(log_of("time_s,vacuum_kPa\n0,0\n0.01,12.5\n0.02,25\n"));
  check_course(log_of("time [ms],vacuum [Pa]\n0,0\n10,12500\n20,2.5e4"));
  check_course(log_of("# bench, hose 3\n\nt (s);note;vac (mbar)\r\n0,00;a;0\r\n0,01;;125,0\r\n0,02;b;250\r\n"));
  check_course(log_of("\xEF\xBB\xBFt/s\tvacuum/kPa\n0\t0\n# pause\n+0.01\t12,5\n0.02\t25.0\n"));
  check_course(log_of("\"time_ms\",\"vacuum_kPa\"\n\"0\",\"0\"\n\"10\",\"12.5\"\n\"20\",\"25\"\n"));
  check_course(log_of("time_s;gauge_kPa\n0;0\n0.01;-12.5\n0.02;-25\n"));
  check_course(log_of("time_s;pressure abs (kPa)\n0;101.325\n0.01;88.825\n0.02;76.325\n"));
  const line::Log negative = log_of("time_s,vacuum_kPa\n0,0\n0.01,-12.5\n0.02,-25\n");
  check_course(negative);
  REQUIRE(negative.notes.size() == 1);
  CHECK(negative.notes[0] == "'vacuum_kPa' is negative and was read as pressure below ambient");
  check_course(log_of("time_s,vacuum_kPa\r0,0\r0.01,12.5\r0.02,25\r"));
}

TEST_CASE("a log lasts as long as logs do, in as many rows as can be fitted", "[read][property]") {
  const auto lasting = [](const std::string& end) { return "time_s,vacuum_kPa\n0,60\n1e-5,60\n" + end + ",59\n"; };
  CHECK(log_refused(lasting("1e-3")) == "accepted");
  CHECK(log_refused(lasting("1e8")) == "accepted");
  CHECK(log_refused("time_s,vacuum_kPa\n1796206000,60\n1796206001,59\n1796206002,58\n") == "accepted");
  CHECK(
      log_refused(lasting("9e-4")) ==
      "log.csv:4:6: from its first row to this one the log lasts 0.0009 s, which is outside 1 ms .. 1e8 s; is the unit "
      "of column 'time_s' right?");
  CHECK_THAT(log_refused(lasting("1.1e8")), Catch::Contains("the log lasts 1.1e+08 s"));
  CHECK(log_refused(lasting("1e300")) ==
        "log.csv:4:1: time 1e300 (column 'time_s') is outside -1e11 s .. 1e11 s; is its unit right?");
  std::string rows = "time_s,vacuum_kPa\n";
  for (int k = 0; k < 1'000'002; ++k) rows += std::to_string(k) + ",50\n";
  CHECK(log_refused(rows) ==
        "log.csv:1000002:1: the log has more than 1000000 rows; keep every tenth, or the part that tells.");
}

TEST_CASE("gaps in a log are skipped and counted", "[read][property]") {
  const line::Log log =
      log_of("time_s,other,vacuum_kPa\n0,7,0\n0.005,7,\n0.006,7\n,7,3\n0.007,7,nan\n0.01,,12.5\n0.02,-,25\n");
  check_course(log);
  CHECK(log.gaps == 4);
}

TEST_CASE("trouble in a log is told with its place", "[read][property]") {
  CHECK(log_refused("time_s,vacuum_kPa\n0,0\n0.02,10\n0.01,12\n0.03,15\n") ==
        "log.csv:4:1: time 0.01 does not rise: the row in line 3 has 0.02. Sort the rows or cut the log into one "
        "recording each.");
  CHECK(log_refused("time_s; vacuum_kPa\n0; 0\n1; 1,5x\n2; 3\nx; 4\n") ==
        "log.csv:3:4: '1,5x' is no number (column 'vacuum_kPa').\nlog.csv:5:1: 'x' is no number (column 'time_s').");
  CHECK(log_refused("0,0\n1,2\n2,3\n")
            .find("log.csv:1:1: no column with a unit of time is here; the first row must name") == 0);
  CHECK(log_refused("time_s,vacuum\n0,0\n").find("log.csv:1:1: no column with a unit of pressure is here") == 0);
  CHECK(log_refused("time_s,vacuum_kPa\n0,0\n1,1\n") ==
        "log.csv:3:1: the log ends here with 2 rows that have a time and a vacuum; at least 3 are needed.");
  CHECK(log_refused("\n# nothing\n").find("log.csv: the file has no rows") == 0);
  CHECK(log_refused("time_s,pressure_kPa\n0,0\n1,10\n2,20\n").find("put 'vacuum' or 'abs' in its name") !=
        std::string::npos);
  CHECK(log_refused("time_s,vacuum_kPa\n0,0\n1,100\n2,120\n").find("zero absolute pressure (ambient is 101.3 kPa)") !=
        std::string::npos);
  // The pressure may stand before the time.
  CHECK(log_refused("vacuum_kPa,time_s\nx,y\n") ==
        "log.csv:2:1: 'x' is no number (column 'vacuum_kPa').\nlog.csv:2:3: 'y' is no number (column 'time_s').");
  CHECK_THROWS_AS(read::read_log("no/such/log.csv", ambient), BadInput);
}

TEST_CASE("a log knows where its vacuums stand and by what steps they go", "[read][property]") {
  const line::Log log = log_of("time_s;vacuum_kPa\n0;60\n\n1; 59,5\n2;59,25\n");
  REQUIRE(log.places.size() == 3);
  CHECK(to_string(line::place_of(log, 1)) == "log.csv:4:4");
  CHECK(log.step == 10.0);
  CHECK(log_of("time_s,vacuum_kPa\n0,60\n1,59\n2,58\n").step == 1000.0);
  CHECK(log_of("time_s,vacuum_Pa\n0,6.00e4\n1,59e3\n2,58e3\n").step == 100.0);
  CHECK_THROWS_WITH(read::read_log_text("time_s,vacuum_kPa\n0,60\n", "log.csv", ambient, 5),
                    "log.csv:2:1: the log ends here with 1 row that has a time and a vacuum; at least 5 are needed.");
}

TEST_CASE("many bad rows of a log are a few complaints and a count", "[read][property]") {
  std::string rows = "time_s,vacuum_kPa\n";
  for (int k = 60; k > 0; --k) rows += std::to_string(k) + ",50\n";
  const std::string said = log_refused(rows);
  CHECK(std::count(said.begin(), said.end(), '\n') == 4);
  CHECK_THAT(said, Catch::EndsWith(" 54 more rows can't be used either."));
  CHECK(log_refused(std::string("\xff\xfet\0i\0m\0e\0\n\0", 12)) ==
        "log.csv:1:1: the log is in UTF-16. Save the file as plain text in UTF-8.");
}
