// Lines that are capped: what stays, what goes, and what is still joined with what.
#include "line/variant.hpp"

#include <catch2/catch.hpp>
#include <numbers>

#include "support/lines.hpp"
#include "support/random_line.hpp"

using namespace airtally;
using namespace airtally::line;

namespace {

/// What is left when the element of that name is capped: "name<after&joins" for each, in line order.
std::string left(const Line& line, const std::string& name) {
  const Capped capped = cap(line, topology(line), *find(line, name));
  std::string all;
  for (const Element& e : capped.line.elements)
    all += (all.empty() ? "" : " ") + e.name + (e.after.empty() ? "" : "<" + e.after) +
           (e.joins.empty() ? "" : "&" + e.joins);
  topology(capped.line, false);  // and it is a sound line
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    const std::size_t now = capped.index[i];
    if (now != none) CHECK(capped.line.elements[now].name == line.elements[i].name);
    CHECK((now == none) == !find(capped.line, line.elements[i].name));
  }
  return all;
}

}  // namespace

TEST_CASE("capping a line in series", "[line][property]") {
  support::Builder b;
  b.pump("p", {{0, 1}, {80e3, 0}})
      .tube("a", 1e-3, 1)
      .leak(support::hole(1e-4))
      .tube("b", 1e-3, 1)
      .nozzle("n", 1e-3, 1e-3, 2e-3);
  CHECK(left(b.line, "p") == "p");
  CHECK(left(b.line, "a") == "p a<p");
  CHECK(left(b.line, "b") == "p a<p b<a");
  CHECK(left(b.line, "n") == "p a b n");  // a blocked tip is a state of the tip
  const Capped capped = cap(b.line, topology(b.line), 1);
  CHECK(capped.line.elements[1].leaks.size() == 1);  // a capped element keeps its own leaks
}

TEST_CASE("capping a branch leaves the others", "[line][property]") {
  support::Builder b;
  b.pump("p", {{0, 1}, {80e3, 0}}).tee("t").tube("a", 1e-3, 1).nozzle("m", 1e-3, 1e-3, 2e-3);
  b.tube("b", 1e-3, 1).after("t").tube("c", 1e-3, 1).nozzle("n", 1e-3, 1e-3, 2e-3);
  CHECK(left(b.line, "a") == "p t<p a<t b<t c<b n<c");
  CHECK(left(b.line, "b") == "p t<p a<t m<a b<t");
  CHECK(left(b.line, "t") == "p t<p");
  CHECK(left(b.line, "m") == "p t a m b<t c n");
}

TEST_CASE("branches taken off leave what they hung on, blocked", "[line][property]") {
  support::Builder b;
  b.pump("p", {{0, 1}, {80e3, 0}}).tee("t").leak(support::hole(1e-4)).tube("a", 1e-3, 1).nozzle("m", 1e-3, 1e-3, 2e-3);
  b.tube("b", 1e-3, 1).after("t").tube("c", 1e-3, 1).nozzle("n", 1e-3, 1e-3, 2e-3);
  const Topology topology = line::topology(b.line);
  const auto names = [](const Capped& capped) {
    std::string all;
    for (const Element& e : capped.line.elements) all += (all.empty() ? "" : " ") + e.name;
    return all;
  };
  const auto off = [&](const std::vector<std::size_t>& elements) { return without(b.line, topology, elements); };
  CHECK(names(off({})) == "p t a m b c n");
  CHECK(names(off({2})) == "p t b c n");
  CHECK(names(off({4})) == "p t a m");
  CHECK(names(off({2, 3})) == "p t b c n");  // the second goes with the first
  CHECK(names(off({3, 2})) == "p t b c n");
  CHECK(names(off({5, 2})) == "p t b");
  CHECK(names(off({2, 4})) == "p t");
  CHECK(off({2, 4}).line.elements[1].leaks.size() == 1);
  const Capped both = cap(off({2}), 4);
  CHECK(names(both) == "p t b");
  CHECK(both.index == std::vector<std::size_t>{0, 1, none, none, 2, none, none});
}

TEST_CASE("capping one way round a loop leaves the other", "[line][property]") {
  support::Builder b;
  b.pump("p", {{0, 1}, {80e3, 0}}).tee("t").tube("a", 1e-3, 1).tube("b", 1e-3, 1);
  b.tube("c", 1e-3, 1).after("t").joins("b").tube("d", 1e-3, 1).after("b").nozzle("n", 1e-3, 1e-3, 2e-3);
  // b's end is closed and comes off c's, from which the stem goes on.
  CHECK(left(b.line, "b") == "p t<p a<t b<a c<t d<c n<d");
  CHECK(left(b.line, "c") == "p t<p a<t b<a c<t d<b n<d");
  // What hangs on the capped end alone goes; what the other way feeds stays.
  CHECK(left(b.line, "a") == "p t<p a<t c<t d<c n<d");
  CHECK(left(b.line, "t") == "p t<p");
  CHECK(left(b.line, "d") == "p t<p a<t b<a c<t&b d<b");
}

TEST_CASE("three ends merged: the two that are left stay merged", "[line][regression]") {
  support::Builder b;
  b.pump("p", {{0, 1}, {80e3, 0}}).tee("t").tube("a", 1e-3, 1);
  b.tube("b", 1e-3, 1).after("t").joins("a").tube("c", 1e-3, 1).after("t").joins("a");
  b.tube("d", 1e-3, 1).after("a").nozzle("n", 1e-3, 1e-3, 2e-3);
  CHECK(left(b.line, "a") == "p t<p a<t b<t c<t&b d<b n<d");
  CHECK(left(b.line, "b") == "p t<p a<t b<t c<t&a d<a n<d");
}

TEST_CASE("a ring at the capped end goes with it", "[line][regression]") {
  support::Builder b;
  b.pump("p", {{0, 1}, {80e3, 0}}).tube("a", 1e-3, 1).tube("ring", 1e-3, 1).joins("a");
  b.nozzle("n", 1e-3, 1e-3, 2e-3).after("a");
  CHECK(left(b.line, "a") == "p a<p");
}

TEST_CASE("a second pump's branch stays when the first one's goes", "[line][property]") {
  support::Builder b;
  b.pump("p", {{0, 1}, {80e3, 0}}).tube("a", 1e-3, 1).tee("t").nozzle("n", 1e-3, 1e-3, 2e-3);
  b.pump("q", {{0, 1}, {80e3, 0}}).tube("c", 1e-3, 1).joins("t");
  CHECK(left(b.line, "p") == "p n<c q c<q");
  CHECK(left(b.line, "c") == "p a<p t<a n<t q c<q");
}

TEST_CASE("every cap of a random line is a sound line", "[line][property]") {
  std::size_t caps = 0;
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    const Line line = support::random_line(seed);
    const Topology whole = topology(line);
    for (std::size_t i = 0; i < line.elements.size(); ++i) {
      const Capped capped = cap(line, whole, i);
      CAPTURE(seed, i);
      CHECK_NOTHROW(topology(capped.line, false));
      CHECK(capped.index[i] != none);
      for (std::size_t k = 0; k < line.elements.size(); ++k)
        if (is_source(line.elements[k].kind)) CHECK(capped.index[k] != none);
      ++caps;
    }
  }
  CHECK(caps > 1500);
}

TEST_CASE("sealing and clearing the way", "[line][closed-form]") {
  support::Builder b;
  b.tube("a", 2e-3, 0.5).leak(support::hole(1e-4)).volume(1e-6);
  Element& e = b.line.elements[0];
  CHECK(restricts(e));
  // pi/4 (2 mm)^2 500 mm = 1570.8 mm3
  CHECK_THAT(bore_volume(e), Catch::Matchers::WithinRel(std::numbers::pi / 4 * 4e-6 * 0.5, 1e-15));
  seal(e);
  CHECK(e.leaks.empty());
  clear_way(e);
  CHECK(e.clear);
  // It goes on holding what it held.
  CHECK(bore_volume(e) > 1.5e-6);
  CHECK(e.volume.value == 1e-6);
}
