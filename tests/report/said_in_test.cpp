#include "report/said_in.hpp"

#include <catch2/catch.hpp>

using namespace airtally;

namespace {

report::Look in(const char* unit) {
  report::Look look;
  look.vacuum = units::find_unit(unit, units::Dimension::pressure);
  return look;
}

}  // namespace

TEST_CASE("a sentence of a study says its pressures in the unit that is asked for", "[report]") {
  const std::string sentence = "if they sealed, the tip would have 78.8 kPa. Seek a smaller gap.";
  CHECK(report::said_in(in("kPa"), sentence) == sentence);
  CHECK(report::said_in(in("mbar"), sentence) == "if they sealed, the tip would have 788 mbar. Seek a smaller gap.");
  // No more digits than the rounding to a tenth of a kPa has left: 78.8 kPa are 23.270 inHg, to 0.015.
  CHECK(report::said_in(in("inHg"), sentence) == "if they sealed, the tip would have 23.3 inHg. Seek a smaller gap.");
  CHECK(report::said_in(in("Pa"), "-1.46 kPa and 0 kPa") == "-1460 Pa and 0 Pa");
  CHECK(report::said_in(in("bar"), "(0.5 kPa)") == "(0.005 bar)");
}

TEST_CASE("names and what to write into a file keep their kPa", "[report]") {
  for (const char* sentence : {"'regulator 60 kPa' stands shut", "give it gauge = { accuracy = \"0.5 kPa\" }",
                               "what the kPa is", "12 kPascal", "e5 kPa", "1.2.3 kPa", ". kPa", " kPa", "", "'"}) {
    CAPTURE(sentence);
    CHECK(report::said_in(in("mbar"), sentence) == sentence);
  }
  CHECK(report::said_in(in("mbar"), "it isn't 2.0 kPa at 'a 1 kPa', but 3.0 kPa.") ==
        "it isn't 20 mbar at 'a 1 kPa', but 30 mbar.");
  CHECK(report::said_in(in("mbar"), "'bob's 1 kPa cup' has 1.0 kPa") == "'bob's 1 kPa cup' has 10 mbar");
}
