#include "units/suggest.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <random>
#include <string>

using namespace airtally::units;

// The usual examples of the distance: three changes; one swap of neighbours.
TEST_CASE("slips are counted as letters left out, added, changed or swapped", "[units][closed-form]") {
  CHECK(slips("kitten", "sitting") == 3);
  CHECK(slips("lenght", "length") == 1);
  CHECK(slips("bor", "bore") == 1);
  CHECK(slips("nozzzle", "nozzle") == 1);
  CHECK(slips("", "tee") == 3);
  CHECK(slips("tee", "") == 3);
  CHECK(slips("Valve", "valve") == 0);
}

TEST_CASE("slips are the same both ways and zero only for the same word", "[units][property]") {
  std::mt19937 random(3);
  const auto word = [&random] {
    std::string w(random() % 6, ' ');
    for (char& c : w) c = static_cast<char>('a' + random() % 3);
    return w;
  };
  for (int i = 0; i < 2000; ++i) {
    const std::string a = word();
    const std::string b = word();
    CAPTURE(a, b);
    CHECK(slips(a, b) == slips(b, a));
    CHECK((slips(a, b) == 0) == (a == b));
    CHECK(slips(a, b) <= std::max(a.size(), b.size()));
  }
}

TEST_CASE("the nearest word is offered only when it is near", "[units]") {
  constexpr std::array<std::string_view, 5> known{"bore", "length", "leak", "critical-ratio", "kind"};
  CHECK(nearest("lenght", known) == "length");
  CHECK(nearest("Bore", known) == "bore");
  CHECK(nearest("critical_ratio", known) == "critical-ratio");
  CHECK(nearest("diameter", known) == std::nullopt);
  CHECK(nearest("", known) == std::nullopt);
  CHECK(nearest(std::string(100000, 'b'), known) == std::nullopt);
  CHECK(nearest("x", std::array<std::string_view, 1>{"y"}) == std::nullopt);
  CHECK(nearest("ab", std::array<std::string_view, 2>{"ac", "ad"}) == "ac");
}

TEST_CASE("where no name is near, one that has the word in it is offered", "[units]") {
  constexpr std::array<std::string_view, 4> known{"hose", "rotary joint", "Gauge tee", "jointed, small"};
  CHECK(nearest_name("joint", known) == "rotary joint");
  CHECK(nearest_name("gauge", known) == "Gauge tee");
  CHECK(nearest_name("jointed", known) == "jointed, small");
  CHECK(nearest_name("hoes", known) == "hose");
  CHECK(nearest_name("oint", known) == std::nullopt);
  CHECK(nearest_name("", known) == std::nullopt);
}
