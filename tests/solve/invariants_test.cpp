// What must hold of every line, on lines that dice have built; tests/fuzz/odd_lines lets a fuzzer throw the dice.
#include "support/invariants.hpp"

#include <catch2/catch.hpp>
#include <exception>

#include "solve/answer.hpp"
#include "study/random.hpp"
#include "support/lines.hpp"
#include "support/random_line.hpp"

using namespace airtally;
using namespace airtally::support;

namespace {

void check_many(std::uint64_t first, std::uint64_t count, std::uint64_t every) {
  for (std::uint64_t seed = first; seed < first + count; ++seed) {
    const bool moving = seed % every == 0;
    Wildness wildness;
    wildness.most = moving ? 8 : 30;
    const line::Line line = random_line(seed, wildness);
    const auto tips = random_states(seed, line::all_of(line, line::Kind::nozzle).size());
    study::Random random(seed);
    std::string broken;
    try {
      broken = broken_invariant(line, tips, random.uniform(), moving);
    } catch (const std::exception& e) {
      broken = e.what();
    }
    if (!broken.empty()) FAIL_CHECK("seed " << seed << ": " << broken);
  }
}

}  // namespace

TEST_CASE("the invariants of a line hold on random lines", "[solve][property]") {
  check_many(1, 300, 20);
  SUCCEED("300 lines");
}

TEST_CASE("the invariants of a line hold on many random lines", "[solve][property][slow]") {
  check_many(10000, 5000, 20);
  SUCCEED("5,000 lines");
}

TEST_CASE("the invariants of a line hold on the lines built in code", "[solve][property]") {
  for (const Named& named : all_lines())
    for (const auto state : {solve::TipState::open, solve::TipState::part}) {
      const auto tips = solve::all_tips(named.line, state);
      for (std::size_t i = 0; i < named.line.elements.size(); ++i) {
        const double pick = (static_cast<double>(i) + 0.5) / static_cast<double>(named.line.elements.size());
        CAPTURE(named.name, i);
        CHECK(broken_invariant(named.line, tips, pick, i == 0).empty());
      }
    }
}

TEST_CASE("what breaks an invariant is found out and named", "[solve][property]") {
  // Planted: the comparisons are asked the wrong way round, and with a tube that is not the same.
  const line::Line line = jewel_setter();
  const auto tips = solve::all_tips(line, solve::TipState::open);
  const std::size_t hose = *line::find(line, "head hose");
  line::Line leaky = line;
  leaky.elements[hose].leaks.push_back(hole(0.2e-3));
  CHECK(compare(line, leaky, tips, -1.0, "a hole") == "");
  CHECK_THAT(compare(line, leaky, tips, 1.0, "a hole"), Catch::Contains("a hole: the vacuum at '"));
  CHECK(compare(leaky, line, tips, -1.0, "sealed") != "");
  line::Line longer = line;
  auto& bore = std::get<line::Bore>(longer.elements[hose].restriction);
  bore.length = 3.0 * bore.length.value;
  CHECK(same(line, line, tips, 0.0, "itself") == "");
  CHECK_THAT(same(line, longer, tips, 1e-4 * line.site.pressure, "longer"), Catch::Contains("longer: the vacuum at '"));
}
