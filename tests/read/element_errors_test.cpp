// Every sentence that core/read can say about the keys of one element, whole, with its place.
#include <catch2/catch.hpp>
#include <string>

#include "read/refusal.hpp"

using namespace airtally::test;

TEST_CASE("a leak is one of three forms", "[read][errors]") {
  const std::string pattern =
      "a leak has exactly one of 'hole', 'clearance' and 'rated'; write leak = { hole = \"0.08 mm\" }, leak = { "
      "clearance = "
      "\"35 um\", diameter = \"5 mm\", length = \"4 mm\" } or leak = { rated = \"12 mL/min\", at = \"60 kPa\" }.";
  CHECK(tube_with("bore = \"4 mm\"\nleak = { }") == "l.toml:7:8: element 'hose': " + pattern);
  CHECK(tube_with("bore = \"4 mm\"\nleak = { hole = \"1 mm\", rated = \"1 L/min\" }") ==
        "l.toml:7:8: element 'hose': " + pattern);
  CHECK(tube_with("bore = \"4 mm\"\nleak = \"0.08 mm\"") ==
        "l.toml:7:8: element 'hose': leak must be a table, written leak = { ... }, or several as leak = [{ ... }, { "
        "... }].");
  CHECK(tube_with("bore = \"4 mm\"\nleak = [{ hole = \"1 mm\" }, { clearance = \"3 mm\" }]") ==
        "l.toml:7:28: element 'hose': needs 'leak[2].diameter', such as diameter = \"4 mm\".\n"
        "l.toml:7:28: element 'hose': needs 'leak[2].length', such as length = \"4 mm\".\n"
        "l.toml:7:42: element 'hose': leak[2].clearance = 3 mm is outside 0.01 um .. 1 mm. Did you mean 3 um?");
  CHECK(tube_with("bore = \"4 mm\"\nleak = { clearance = \"0.3 mm\", diameter = \"0.5 mm\", length = \"4 mm\" }") ==
        "l.toml:7:22: element 'hose': the clearance is the gap on one side (half the difference of the diameters); it "
        "can't "
        "be wider than half the diameter.");
  CHECK(
      refusal(
          "format = 1\n[site]\npressure = \"55 kPa\"\n[[element]]\nname = \"t\"\nkind = \"tee\"\nleak = { rated = \"1 "
          "mL/min\", at = \"60 kPa\", law = \"lamina\" }\n") ==
      "l.toml:7:35: element 't': the vacuum of a rated leak must be less than the site's ambient pressure of 55.0 "
      "kPa.\n"
      "l.toml:7:51: element 't': leak.law = \"lamina\" is none of laminar, orifice. Did you mean \"laminar\"?");
}

TEST_CASE("a wall is no rougher than a tenth of its bore", "[read][errors]") {
  CHECK(tube_with("bore = \"4 mm\"\nroughness = \"0.5 mm\"") ==
        "l.toml:7:13: element 'hose': the roughness of the wall can be a tenth of the bore at most, 0.4 mm here.");
  CHECK(element_with("nozzle", "bore = \"1 mm\"\nlength = \"6 mm\"\nroughness = \"0.11 mm\"") ==
        "l.toml:7:13: element 'x': the roughness of the wall can be a tenth of the bore at most, 0.1 mm here.");
}

TEST_CASE("a motor that turns draws current at every vacuum", "[read][errors]") {
  const std::string curve = "curve = [[\"0 kPa\", \"8 L/min\"], [\"70 kPa\", \"0 L/min\"]]\n";
  CHECK(element_with("pump", curve + "current = [[\"0 kPa\", \"210 mA\"], [\"40 kPa\", \"0 mA\"]]") ==
        "l.toml:6:11: element 'x': point 2 of the current has none at all: a motor that turns draws some at every "
        "vacuum, and one that stalls before the last point of the curve is too weak for this pump. Leave 'current' out "
        "where it is not known.");
  CHECK(element_with("pump", curve + "current = [[\"0 kPa\", \"-10 mA\"], [\"40 kPa\", \"90 mA\"]]") ==
        "l.toml:6:22: element 'x': current[1] = -10 mA is outside 0 A .. 100 A.");
}

TEST_CASE("a pump's curve falls from free flow to nothing", "[read][errors]") {
  CHECK(element_with("pump", "") ==
        "l.toml:2:1: element 'x': needs 'curve', vacuum against flow of free air, such as curve = [[\"0 kPa\", \"8 "
        "L/min\"], "
        "[\"70 kPa\", \"0 L/min\"]].");
  CHECK(element_with("pump", "curve = \"8 L/min\"") ==
        "l.toml:5:9: element 'x': curve must be a list of pairs, such as curve = [[\"60 kPa\", \"6 L/min\"], ...].");
  CHECK(element_with("pump", "curve = [\"0 kPa\", \"8 L/min\"]") ==
        "l.toml:5:10: element 'x': curve[1] is not a pair: curve must be a list of pairs, such as curve = [[\"60 "
        "kPa\", \"6 "
        "L/min\"], ...].\n"
        "l.toml:5:19: element 'x': curve[2] is not a pair: curve must be a list of pairs, such as curve = [[\"60 "
        "kPa\", \"6 "
        "L/min\"], ...].");
  CHECK(element_with("pump", "curve = [[\"0 kPa\", \"8 L/min\"]]") ==
        "l.toml:5:9: element 'x': curve needs at least two points.");
  CHECK(element_with("pump", "curve = [[\"0 kPa\", \"8\"], [\"70 kPa\", \"0 L/min\"]]") ==
        "l.toml:5:20: element 'x': curve[1] = \"8\" is a bare number; say its unit, such as \"6 L/min\".");
  CHECK(element_with("pump", "curve = [[\"10 kPa\", \"8 L/min\"], [\"70 kPa\", \"1 L/min\"]]") ==
        "l.toml:5:9: element 'x': the first point of the curve must be at \"0 kPa\": the flow with nothing connected.\n"
        "l.toml:5:9: element 'x': the last point of the curve must have no flow (\"0 L/min\"): its vacuum is the "
        "deepest the "
        "pump pulls.");
  CHECK(element_with("pump",
                     "curve = [[\"0 kPa\", \"8 L/min\"], [\"70 kPa\", \"9 L/min\"], [\"60 kPa\", \"0 L/min\"]]") ==
        "l.toml:5:9: element 'x': the vacuum must rise from point to point of the curve, but that of point 3 is not "
        "above "
        "that of point 2.\n"
        "l.toml:5:9: element 'x': the flow must fall from point to point of the curve, but that of point 2 is not "
        "below that "
        "of point 1.");
  CHECK(element_with("pump", "curve = [[\"0 kPa\", \"8 L/min\"], [\"101.325 kPa\", \"0 L/min\"]]") ==
        "l.toml:5:9: element 'x': no pump reaches a vacuum of a whole atmosphere (101.325 kPa), where nothing would be "
        "left.");
  CHECK(element_with("pump", "curve = [[\"0 kPa\", \"8 L/min\"], [\"120 kPa\", \"0 L/min\"]]") ==
        "l.toml:5:33: element 'x': curve[2] = 120 kPa is outside 0 kPa .. 101.325 kPa.");
  CHECK(element_with("pump", "curve = [[\"0 kPa\", \"0 L/min\"], [\"70 kPa\", \"0 L/min\"]]") ==
        "l.toml:5:9: element 'x': the flow at the first point of the curve must be above nothing.\n"
        "l.toml:5:9: element 'x': the flow must fall from point to point of the curve, but that of point 2 is not "
        "below that "
        "of point 1.");
}

TEST_CASE("restrictions given twice or not at all are refused", "[read][errors]") {
  CHECK(element_with("coupler", "bore = \"2 mm\"\nlength = \"9 mm\"\nconductance = \"1 dm3/(s bar)\"") ==
        "l.toml:5:8: element 'x': say either bore and length or the conductance of a data sheet, not both.\n"
        "l.toml:6:10: element 'x': say either bore and length or the conductance of a data sheet, not both.");
  CHECK(
      element_with("filter", "") ==
      "l.toml:2:1: element 'x': a filter needs 'rated', such as rated = { flow = \"6 L/min\", drop = \"2 kPa\" }, or a "
      "'conductance'.");
  CHECK(element_with("filter", "conductance = \"1 dm3/(s bar)\"\nrated = { }") ==
        "l.toml:6:9: element 'x': say either 'rated' or the conductance of a data sheet, not both.");
  CHECK(element_with("reservoir", "volume = \"0 L\"") ==
        "l.toml:5:10: element 'x': a reservoir needs a volume above nothing.");
  CHECK(element_with("trap", "volume = \"20 mL\"") ==
        "l.toml:2:1: element 'x': a trap needs 'rated', such as rated = { flow = \"6 L/min\", drop = \"2 kPa\" }, or a "
        "'conductance'.");
  CHECK(element_with("trap", "conductance = \"1 dm3/(s bar)\"\nrated = { }\nvolume = \"20 mL\"") ==
        "l.toml:6:9: element 'x': say either 'rated' or the conductance of a data sheet, not both.");
  CHECK(element_with("trap", "conductance = \"1 dm3/(s bar)\"") ==
        "l.toml:2:1: element 'x': needs 'volume', such as volume = \"6 mL\".");
  CHECK(element_with("trap", "conductance = \"1 dm3/(s bar)\"\nvolume = \"0 mL\"") ==
        "l.toml:6:10: element 'x': a trap needs a volume above nothing.");
  CHECK(
      element_with("nozzle", "bore = \"2 mm\"\nlength = \"9 mm\"\nrim = \"1.8 mm\"") ==
      "l.toml:7:7: element 'x': the rim is the outer diameter of the nozzle's mouth; it must be larger than the bore.");
}

TEST_CASE("a valve's release port", "[read][errors]") {
  const std::string path = "conductance = \"1 dm3/(s bar)\"\n";
  CHECK(
      element_with("valve", path + "blow-off = { pressure = \"30 kPa\" }") ==
      "l.toml:6:12: element 'x': blow-off air comes in through the release port; describe it as vent = { conductance = "
      "\"0.25 dm3/(s bar)\" }.");
  CHECK(element_with("valve", path + "state = \"vent\"") ==
        "l.toml:6:9: element 'x': a valve without 'vent' can't be in the state \"vent\".");
  CHECK(element_with("valve", path + "blow-off = { pressure = \"30 kPa\" }\nvent = { conductance = \"1 dm3/(s bar)\", "
                                     "blow-off = { pressure = \"30 kPa\" } }") ==
        "l.toml:6:12: element 'x': blow-off is given twice, here and inside 'vent'; leave one out.");
}

TEST_CASE("after and joins name other elements", "[read][errors]") {
  CHECK(element_with("tee", "after = \"x\"\njoins = \"\"") ==
        "l.toml:5:9: element 'x': after names the element itself.\n"
        "l.toml:6:9: element 'x': joins must name an element.");
}
