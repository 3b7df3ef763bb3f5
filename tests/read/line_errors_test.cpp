// Every sentence that core/read can say about a line file as a whole, with its place.
#include <catch2/catch.hpp>
#include <random>
#include <string>

#include "read/refusal.hpp"

using namespace airtally::test;

TEST_CASE("a text that isn't TOML is one sentence with its place", "[read][errors]") {
  CHECK_THAT(refusal("format = 1\nbore = 4 mm\n"),
             Catch::StartsWith("l.toml:2:") && Catch::Contains("this isn't TOML, the format of the file: ") &&
                 Catch::EndsWith(". A value with its unit stands between quotes, as in "
                                 "bore = \"4 mm\"."));
  const std::string open = refusal("format = 1\n[[element\n");
  CHECK_THAT(open, Catch::StartsWith("l.toml:2:") && !Catch::Contains("between quotes"));
  CHECK(open.find('\n') == std::string::npos);
}

TEST_CASE("what a whole file needs", "[read][errors]") {
  CHECK(refusal("") ==
        "l.toml:1:1: line: needs 'format = 1' at its top, so that later versions of airtally know how to read it.\n"
        "l.toml:1:1: line: has no elements; describe each in a table [[element]], from the pump to the nozzle.");
  CHECK(refusal("format = 2\nelement = []\n") ==
        "l.toml:1:10: line: format must be 1, the only format that this version of airtally knows.");
  CHECK(refusal("format = 1.0\nelement = []\n") ==
        "l.toml:1:10: line: format must be 1, the only format that this version of airtally knows.");
  CHECK(
      refusal("format = 1\nelement = 3\n") ==
      "l.toml:2:11: line: element must be a table, written element = { ... }, or several as element = [{ ... }, { ... "
      "}].");
  CHECK(refusal("format = 1\nelement = []\ntitle = 4\nelements = []\nsite = 3\n") ==
        "l.toml:3:9: line: title must be a text between quotes.\n"
        "l.toml:4:1: line: 'elements' is not a key of a line file. Did you mean 'element'?\n"
        "l.toml:5:8: line: site must be a table, written site = { ... }.");
}

TEST_CASE("an element needs a name and a kind", "[read][errors]") {
  CHECK(refusal("format = 1\n[[element]]\nkind = \"tee\"\n") ==
        "l.toml:2:1: element 1: needs a name, such as name = \"supply hose\".");
  CHECK(refusal("format = 1\n[[element]]\nname = \" \"\nkind = \"tee\"\n") ==
        "l.toml:3:8: element 1: a name has 1 to 60 bytes on one line, no control characters, and not only spaces.");
  CHECK(refusal("format = 1\n[[element]]\nname = \"x\"\n") ==
        "l.toml:2:1: element 'x': needs a kind, such as kind = \"tube\".");
  CHECK(refusal("format = 1\n[[element]]\nname = \"x\"\nkind = \"nozle\"\n") ==
        "l.toml:4:8: element 'x': kind = \"nozle\" is none of pump, ejector, tube, spindle, coupler, rotary, nozzle, "
        "valve, "
        "filter, trap, check-valve, tee, reservoir, plug. Did you mean \"nozzle\"?");
}

TEST_CASE("a value without its unit, of the wrong type or out of range is refused", "[read][errors]") {
  CHECK(tube_with("bore = 4") ==
        "l.toml:6:8: element 'hose': bore = 4 is a bare number; say its unit between quotes, such as \"4 mm\".");
  CHECK(tube_with("bore = \"4\"") ==
        "l.toml:6:8: element 'hose': bore = \"4\" is a bare number; say its unit, such as \"4 mm\".");
  CHECK(
      tube_with("bore = \"4 kPa\"") ==
      "l.toml:6:8: element 'hose': bore = \"4 kPa\": 'kPa' measures pressure, but a length is needed here, such as \"4 "
      "mm\".");
  CHECK(tube_with("bore = true") == "l.toml:6:8: element 'hose': bore must be a length, such as \"4 mm\".");
  CHECK(tube_with("bore = inf") == "l.toml:6:8: element 'hose': bore = inf is not a finite number.");
  CHECK(tube_with("bore = \"6 m\"") ==
        "l.toml:6:8: element 'hose': bore = 6 m is outside 0.01 mm .. 100 mm. Did you mean 6 mm?");
  CHECK(tube_with("bore = \"0 mm\"") == "l.toml:6:8: element 'hose': bore = 0 mm is outside 0.01 mm .. 100 mm.");
  CHECK(tube_with("bore = \"-4 mm\"") == "l.toml:6:8: element 'hose': bore = -4 mm is outside 0.01 mm .. 100 mm.");
  CHECK(tube_with("bore = \"4 ± 5 mm\"") ==
        "l.toml:6:8: element 'hose': bore = 4 ± 5 mm reaches outside 0.01 mm .. 100 mm.");
  CHECK(tube_with("") == "l.toml:2:1: element 'hose': needs 'bore', such as bore = \"4 mm\".");
  CHECK(element_with("valve", "conductance = \"1 dm3/(s bar)\"\ncritical-ratio = 1") ==
        "l.toml:6:18: element 'x': critical-ratio = 1 is outside 0 .. 0.95.");
}

TEST_CASE("an unknown key is answered by the nearest, or by the list", "[read][errors]") {
  CHECK(tube_with("bor = \"4 mm\"") ==
        "l.toml:2:1: element 'hose': needs 'bore', such as bore = \"4 mm\".\n"
        "l.toml:6:1: element 'hose': 'bor' is not a key of a tube. Did you mean 'bore'?");
  CHECK(tube_with("bore = \"4 mm\"\ncolour = \"red\"") ==
        "l.toml:7:1: element 'hose': 'colour' is not a key of a tube. Allowed: name, kind, use, after, joins, bore, "
        "length, "
        "roughness, loss, leak, volume, gauge, effort, wall, modulus.");
  CHECK(tube_with("bore = \"4 mm\"\ngauge = { acuracy = \"1 kPa\" }") ==
        "l.toml:7:11: element 'hose': 'gauge.acuracy' is not a key of 'gauge'. Did you mean 'accuracy'?");
}

TEST_CASE("the site and the part", "[read][errors]") {
  CHECK(refusal("format = 1\nelement = []\n[site]\naltitude = \"0 m\"\npressure = \"100 kPa\"\n") ==
        "l.toml:5:12: site: say either the altitude or the pressure, not both.");
  CHECK(refusal("format = 1\nelement = []\n[site]\naltitude = \"12 km\"\n") ==
        "l.toml:4:12: site: altitude = 12 km is outside -1000 m .. 11000 m.");
  for (const char* small : {"340 mm", "34000 cm", "-12 in", "3e5 mil"})
    CHECK(refusal(std::string("format = 1\nelement = []\n[site]\naltitude = \"") + small + "\"\n") ==
          std::string("l.toml:4:12: site: altitude = ") + small +
              " can't be meant: a height above the sea is said in m, km or ft, such as \"340 m\".");
  CHECK_THAT(refusal("format = 1\nelement = []\n[site]\naltitude = \"0 mm\"\n"), !Catch::Contains("altitude"));
  CHECK(refusal("format = 1\nelement = []\n[site]\ntemperature = \"20..22 C\"\n") ==
        "l.toml:4:15: site: temperature must be a single value, without tolerance or range.");
  CHECK(refusal("format = 1\nelement = []\n[part]\nname = \"p\"\n") ==
        "l.toml:3:1: part: needs 'mass', such as mass = \"12 mg\".");
}

TEST_CASE("all mistakes are told at once, in the order of the file", "[read][errors]") {
  const std::string all = refusal(
      "format = 1\n[part]\nmass = 3\n[[element]]\nname = \"b\"\nkind = \"tube\"\nlength = \"1 m\"\nbore = "
      "4\n[[element]]\nname = "
      "\"a\"\nkind = \"tub\"\n");
  CHECK_THAT(all, Catch::Contains("l.toml:3:8: part:") && Catch::Contains("\nl.toml:8:8: element 'b'") &&
                      Catch::Contains("\nl.toml:11:8: element 'a'"));
}

TEST_CASE("whatever a file holds, a line or BadInput comes out", "[read][property]") {
  const std::string good =
      "format = 1\n[[element]]\nname = \"p\"\nkind = \"pump\"\ncurve = [[\"0 kPa\", \"8 L/min\"], [\"71 kPa\", \"0 "
      "L/min\"]]\n[[element]]\nname = \"v\"\nkind = \"valve\"\nconductance = \"0.3 dm3/(s bar)\"\nvent = { conductance "
      "= \"0.2 "
      "dm3/(s bar)\" }\nleak = [{ hole = \"0.1 mm\" }, { rated = \"1 mL/min\", at = \"40 kPa\" }]\n[part]\nmass = \"1 "
      "mg\"\n";
  REQUIRE(refusal(good) == "(accepted)");
  std::mt19937 random(11);
  const std::string bits = "\"[]{}=,.\n#-+ 0e9amk/'\\\x80\xc2";
  int refused = 0;
  for (int i = 0; i < 3000; ++i) {
    std::string text = good;
    for (unsigned k = 0; k <= random() % 3; ++k) {
      const std::size_t at = random() % text.size();
      switch (random() % 4) {
        case 0:
          text.erase(at, 1 + random() % 5);
          break;
        case 1:
          text.insert(at, 1, bits[random() % bits.size()]);
          break;
        case 2:
          text[at] = bits[random() % bits.size()];
          break;
        default:
          text.insert(at, text.substr(random() % text.size(), random() % 30));
          break;
      }
    }
    const std::string said = refusal(text);
    if (said != "(accepted)") ++refused;
    if (said.rfind("l.toml:", 0) != 0 && said != "(accepted)") FAIL_CHECK(text + "\n" + said);
  }
  CHECK(refused > 1000);
}

TEST_CASE("a character beyond ASCII outside quotes is refused at its place", "[read][regression]") {
  // The parser of TOML runs into undefined behaviour on some of these; fuzzing found it.
  const std::string said =
      ": this isn't TOML, the format of the file: a character beyond ASCII stands outside quotes and comments.";
  CHECK(refusal("format = 1\n[site]\ntemperature = 20 \u00b0C\n") ==
        "l.toml:3:18" + said + " A value with its unit stands between quotes, as in bore = \"4 mm\".");
  CHECK(refusal("format \u00ba= 1\n") == "l.toml:1:8" + said);
  CHECK(refusal("a = \"\u00b5\" \u00e4\n") == "l.toml:1:9" + said);
  CHECK(refusal("a = \'\'\'\u00b5'\n\u00e4\'\'\' \u00e4\n") == "l.toml:2:6" + said);
  // A quote amid a value begins no text.
  CHECK_THAT(refusal("a = 1v\"\u00b7\"\n"), Catch::StartsWith("l.toml:1:6: this isn't TOML"));
  CHECK(refusal("a = \"x\" \"\u00b7\"\n").find("l.toml:1:9") == 0);
  CHECK(refusal("a = [ \"\u00b7\", # \"\n \"\u00b7\" ]\n\"\u00b7\".b = {\"\u00b7\" = 1}\n").find("beyond ASCII") ==
        std::string::npos);
  // A backslash that joins the lines of a long text.
  const std::string joined =
      ": this isn't TOML, the format of the file: a character beyond ASCII stands behind a "
      "backslash.";
  CHECK(refusal("a = \"\"\"x\\ \u00b1\"\"\"\n") == "l.toml:1:11" + joined);
  CHECK(refusal("a = \"\"\"x\\\n  \u00b1\"\"\"\n") == "l.toml:2:3" + joined);
  CHECK(refusal("a == 1\nb = \"\"\"\\\n  \u00b1\"\"\"\n").find("l.toml:1:4") == 0);
  CHECK(refusal("a = \"\"\"\\\\ \u00b1 \\\n x \u00b1\"\"\"\n").find("beyond ASCII") == std::string::npos);
  // What is wrong before it comes first.
  CHECK_THAT(refusal("format == 1\nb\u00f6re = 1\n"), Catch::StartsWith("l.toml:1:9: this isn't TOML"));
  // Between quotes and in comments it is welcome, and so is a mark of the byte order.
  for (const char* const text :
       {"\xEF\xBB\xBF"
        "format = 1 # \u00b0\n",
        "title = \"\\\"\u00b0\"\n", "title = '\u00b0\\'\n", "title = \"\"\"\u00b0\"\"\"\"\"\n"})
    CHECK(refusal(text).find("beyond ASCII") == std::string::npos);
}

TEST_CASE("words that others use for an element lead to its own", "[read][errors]") {
  const auto said = [](const std::string& kind) {
    return refusal("format = 1\n[[element]]\nname = \"it\"\nkind = \"" + kind + "\"\n");
  };
  CHECK_THAT(said("hose"), Catch::Contains("reservoir, plug. Did you mean \"tube\"?"));
  CHECK_THAT(said("manifold"), Catch::Contains("Did you mean \"tee\"?"));
  CHECK_THAT(said("Cup"), Catch::Contains("Did you mean \"nozzle\"?"));
  CHECK_THAT(said("tub"), Catch::Contains("Did you mean \"tube\"?"));
  CHECK_THAT(said("engine"), !Catch::Contains("Did you mean"));
}

TEST_CASE("one bracket in place of two is told as that", "[read][errors]") {
  CHECK_THAT(
      refusal("format = 1\n[element]\nname = \"a\"\n[element]\nname = \"b\"\n"),
      Catch::StartsWith("l.toml:4:") && Catch::EndsWith("Every element begins with [[element]], in two brackets."));
  CHECK_THAT(refusal("format = 1\n[reading]\n[reading]\n"),
             Catch::EndsWith("Every reading begins with [[reading]], in two brackets."));
}

TEST_CASE("a hint is given for a slip, and no other unit for a value too large", "[read][errors]") {
  const auto site = [](const std::string& line) { return refusal("format = 1\nelement = []\n[site]\n" + line + "\n"); };
  CHECK_THAT(site("altitude = \"1000\""),
             Catch::Contains("site: altitude = \"1000\" is a bare number; say its unit, such as \"1000 m\"."));
  CHECK_THAT(site("altitude = 1000"), Catch::Contains("say its unit between quotes, such as \"1000 m\"."));
  CHECK_THAT(site("pressure = \"40 inHg\""),
             Catch::EndsWith("pressure = 40 inHg is outside 20 kPa .. 120 kPa (5.906 inHg .. 35.43 inHg)."));
  CHECK_THAT(site("pressure = \"1.3 bar\""), Catch::EndsWith("is outside 20 kPa .. 120 kPa (0.2 bar .. 1.2 bar)."));
  CHECK_THAT(site("pressure = \"101.3 Pa\""), Catch::EndsWith("Did you mean 101.3 kPa?"));
}

TEST_CASE("a curve written backwards is one mistake", "[read][errors]") {
  const std::string said = refusal(
      "format = 1\n[[element]]\nname = \"pump\"\nkind = \"pump\"\ncurve = [[\"70 kPa\", \"0 L/min\"], [\"30 kPa\", "
      "\"4 L/min\"], [\"0 kPa\", \"8 L/min\"]]\n");
  CHECK_THAT(said,
             Catch::StartsWith("l.toml:5:9: element 'pump': the curve runs from the deepest vacuum to none; write "
                               "its points the other way round, the one at \"0 kPa\" first."));
  CHECK_THAT(said, !Catch::Contains("must"));
}
