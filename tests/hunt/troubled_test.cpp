#include "hunt/next/troubled.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "hunt/bench.hpp"
#include "hunt/hunt.hpp"
#include "solve/answer.hpp"

using namespace airtally;
using namespace airtally::hunt;

TEST_CASE("the first test goes by a line in trouble, each element in turn", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, {});
  const auto tips = solve::usual_tips(line);
  const Beliefs beliefs = troubled(all, tips);
  double sum = 0.0, right = 0.0;
  std::set<std::size_t> who;
  const Costs costs = costs_of(all, beliefs.z, tips);
  for (std::size_t s = 0; s < beliefs.z.size(); ++s) {
    sum += beliefs.weight[s];
    who.insert(beliefs.costs.worst[s]);
    right += costs.worst[s] == beliefs.costs.worst[s] ? beliefs.weight[s] : 0.0;
  }
  CHECK(std::abs(sum - 1.0) < 1e-12);
  CHECK(who.size() >= 5);
  CHECK(right > 0.8);  // the rest of the line is drawn from the prior, and may be worse now and then
  // Who takes the prior as it is has the joint as the worst, and no first test tells anything.
  const std::vector<NextTest> tests = possible_tests(all, {}, tips);
  const NextTest first = next_tests(all, {}, beliefs, tests, 1).front();
  CHECK(first.information.bits > 0.5);
  REQUIRE(first.setting.cap);
  // What has all elements on the line and nothing undone goes before it: every other reading is compared with that.
  const std::vector<NextTest> next = hunt::hunt(line, {}).next;
  CHECK(next[0].setting == Setting{{}, 0.0, {solve::TipState::blocked}});
  CHECK(next[0].effort == 0.0);
  CHECK(next[1].setting == first.setting);
}
