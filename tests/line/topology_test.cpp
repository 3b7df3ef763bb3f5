// Every complaint about a line as a graph, asserted whole, and what a sound line's topology says.
#include "line/topology.hpp"

#include <catch2/catch.hpp>

#include "support/lines.hpp"

using namespace airtally;
using namespace airtally::line;

namespace {

/// The complaints about a line, as the user would read them.
std::string complaints(const Line& line, bool need_nozzle = true) {
  try {
    topology(line, need_nozzle);
  } catch (const BadInput& refusal) {
    return refusal.what();
  }
  return "none";
}

/// A pump, a tube and a nozzle, each with a position in a file.
support::Builder sound() {
  support::Builder b;
  b.pump("pump", {{0, 1}, {80e3, 0}}).tube("hose", 1e-3, 0.1).nozzle("nozzle", 1e-3, 1e-3, 2e-3);
  return b;
}

Line placed(support::Builder& b) {
  int row = 10;
  for (Element& e : b.line.elements) {
    e.where = {"a.toml", row, 8};
    e.after_at = {"a.toml", row + 1, 9};
    e.joins_at = {"a.toml", row + 2, 9};
    row += 10;
  }
  b.line.file = "a.toml";
  return b.line;
}

}  // namespace

TEST_CASE("a sound line's topology", "[line][property]") {
  const Line line = support::ring();
  const Topology t = topology(line);
  const auto at = [&](const char* name) { return *find(line, name); };
  CHECK(t.before[at("pump")] == none);
  CHECK(t.before[at("long way")] == at("fork"));
  CHECK(t.joined[at("long end")] == at("short end"));
  CHECK(t.beyond[at("fork")] == std::vector<std::size_t>{at("short way"), at("long way")});
  CHECK(t.place[at("fork")] == t.place[at("pump")]);  // a tee is a place: its two ends are one
  CHECK(t.place[at("long end")] == t.place[at("short end")]);
  CHECK(t.place[at("long end")] != t.place[at("long middle")]);
  CHECK(t.sharing[t.place[at("pump")]] == 2);
  // 11 elements: two tees behind tubes and one behind the pump, two merged ends.
  CHECK(t.places == line.elements.size() - 5);
}

TEST_CASE("a line without an end", "[line][property]") {
  CHECK(complaints(Line{}) == "the line has no [[element]]; it needs at least a pump and a nozzle.");
  support::Builder b;
  b.tube("hose", 1e-3, 0.1);
  CHECK(
      complaints(placed(b)) ==
      "a.toml: the line has no source of vacuum; add an element of kind \"pump\" or \"ejector\" at its beginning.\n"
      "a.toml: the line has no nozzle; add an element of kind \"nozzle\" at its end.\n"
      "a.toml:10:8: element 'hose': a line starts at its source, but this is a tube; put the pump or ejector first, or "
      "say after = \"...\".");
  support::Builder p;
  p.pump("pump", {{0, 1}, {80e3, 0}});
  CHECK(complaints(p.line, false) == "none");
}

TEST_CASE("names that are taken or missing", "[line][property]") {
  support::Builder b = sound();
  b.tube("hose", 1e-3, 0.1).after("pump");
  CHECK(complaints(placed(b)) ==
        "a.toml:40:8: the name 'hose' is taken by the element in line 20; every element needs a name of its own.");
  b = sound();
  b.tube("side", 1e-3, 0.1).after("hoes");
  CHECK(complaints(placed(b)) ==
        "a.toml:41:9: element 'side': after names 'hoes', which does not exist. Did you mean 'hose'?");
  b = sound();
  b.line.elements[1].name = "long hose";
  b.tube("side", 1e-3, 0.1).after("hose");
  CHECK(complaints(placed(b)) ==
        "a.toml:41:9: element 'side': after names 'hose', which does not exist. Did you mean 'long hose'?");
  b = sound();
  b.tube("side", 1e-3, 0.1).after("pump").joins("something else altogether");
  CHECK(complaints(placed(b)) ==
        "a.toml:42:9: element 'side': joins names 'something else altogether', which does not exist.");
  b = sound();
  b.tube("side", 1e-3, 0.1).after("side");
  CHECK(complaints(placed(b)) == "a.toml:41:9: element 'side': after names the element itself; name another one.");
}

TEST_CASE("elements in a circle and out of reach", "[line][property]") {
  support::Builder b = sound();
  b.tube("a", 1e-3, 0.1).after("b").tube("b", 1e-3, 0.1).after("a");
  CHECK(
      complaints(placed(b)) ==
      "a.toml:41:9: elements 'a', 'b' are after one another in a circle; let one of them start at the source's side.");
  b = sound();
  b.pump("second", {{0, 1}, {80e3, 0}}).after("hose");
  CHECK(
      complaints(placed(b)) ==
      "a.toml:41:9: element 'second': a pump starts a branch of its own and can't be after another element; use joins "
      "to bring its branch into the line.");
}

TEST_CASE("nozzles and plugs end their branches", "[line][property]") {
  support::Builder b = sound();
  b.tube("more", 1e-3, 0.1);
  CHECK(complaints(placed(b)) ==
        "a.toml:41:9: element 'more' comes after 'nozzle', but a nozzle ends its branch; say after = \"...\" with the "
        "element where this one starts.");
  b = sound();
  b.tube("side", 1e-3, 0.1).after("pump").joins("nozzle");
  CHECK(
      complaints(placed(b)) ==
      "a.toml:42:9: element 'side' can't join 'nozzle': a nozzle or plug ends its branch; join the element before it.");
}

TEST_CASE("a loop with nothing in it", "[line][property]") {
  support::Builder b = sound();
  b.tee("one").after("hose").tee("two").after("hose").joins("one");
  CHECK(complaints(placed(b)) ==
        "a.toml:52:9: element 'two' closes a loop through 'one' with nothing in it but tees and joins; air could run "
        "round in it for ever. Put a tube or another restriction into the loop.");
}

TEST_CASE("several complaints come in file order", "[line][property]") {
  support::Builder b = sound();
  b.tube("x", 1e-3, 0.1).after("nowhere at all").tube("hose", 1e-3, 0.1).after("pump");
  CHECK(complaints(placed(b)) ==
        "a.toml:41:9: element 'x': after names 'nowhere at all', which does not exist.\n"
        "a.toml:50:8: the name 'hose' is taken by the element in line 20; every element needs a name of its own.");
}
