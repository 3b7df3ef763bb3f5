#include "study/question.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "lines/lines.hpp"
#include "solve/tally.hpp"
#include "study/parallel.hpp"
#include "study/strip.hpp"

using namespace airtally;

namespace {

std::size_t measure(const study::Question& question, const std::string& key, const std::string& name) {
  for (std::size_t m = 0; m < question.measures.size(); ++m)
    if (question.measures[m].key == key && question.measures[m].element == name) return m;
  FAIL("no measure " + key + " of " + name);
  return 0;
}

}  // namespace

TEST_CASE("the numbers of a removal test are those of its steps", "[study][question][property]") {
  const line::Line line = test::scenario("jewel-setter");
  const auto tips = solve::usual_tips(line);
  const study::Question question = study::strip_question(line, tips);
  const std::vector<double> numbers = study::nominal(question, line);
  const study::Strip strip = study::strip(study::as_stated(line), tips);
  for (const study::StripStep& step : strip.steps) {
    const std::string& name = line.elements[step.cap].name;
    CHECK(numbers[measure(question, "change_pa", name)] == step.change);
    CHECK(numbers[measure(question, "culprit_probability", name)] == (strip.culprit == step.cap ? 1.0 : 0.0));
  }
}

// What differs from pick to pick and from build to build is part of the question, not of what is drawn: a line whose
// gap were drawn and then exact would have no spread of held vacuums to tell from.
TEST_CASE("a sensor's question keeps the spread of gap and zero in every line drawn", "[study][question][property]") {
  const line::Line line = test::scenario("jewel-setter");
  const study::Question question = study::sense_question(line, std::nullopt);
  const study::Sense now = study::sense(line);
  const std::vector<double> numbers = study::nominal(question, line);
  CHECK(numbers[measure(question, "separation", "")] == Approx(now.separation).epsilon(1e-9));
  CHECK(numbers[measure(question, "tells_probability", "")] == (now.tells ? 1.0 : 0.0));
  CHECK(numbers[measure(question, "vacuum_pa", "part")] == Approx(now.states[2].reading.vacuum).epsilon(1e-9));
  for (const line::Uncertain& input : line::uncertain(study::drawn_from(question, line))) {
    CHECK(input.path != "part.gap");
    CHECK(input.path != "sensor.zero");
  }
  line::Line exact = line;
  exact.part->gap = line.part->gap.value;
  CHECK(study::sense(exact).separation > 1.001 * now.separation);  // the gap does blur it
}

// What a question leaves alone are values of the file's tables; elements may have names that begin like theirs.
TEST_CASE("an element named like a table keeps its uncertainty", "[study][question][property]") {
  line::Line line = test::scenario("jewel-setter");
  const auto hose = line::find(line, "head hose").value();
  const auto tips = solve::usual_tips(line);
  std::get<line::RatedLeak>(line.elements[hose].leaks.front()).flow = units::Quantity::uniform(1e-8, 4e-8);
  for (const char* name : {"head hose", "sensor", "cycle", "move", "cycle.part", "part.mass"}) {
    CAPTURE(name);
    line.elements[hose].name = name;
    if (hose + 1 < line.elements.size() && !line.elements[hose + 1].after.empty()) line.elements[hose + 1].after = name;
    const auto inputs = line::uncertain(study::drawn_from(study::steady_question(line, tips), line));
    CHECK(std::any_of(inputs.begin(), inputs.end(), [&](const line::Uncertain& input) {
      return input.path == std::string(name) + ".leak.rated" && !input.of_table;
    }));
  }
}

TEST_CASE("solves are counted where they are asked for, on every thread, and nowhere else",
          "[solve][stats][property]") {
  const line::Line line = test::scenario("jewel-setter");
  const auto tips = solve::usual_tips(line);
  const solve::SteadyAnswer alone = solve::steady(line, tips);
  for (const unsigned threads : {1U, 2U, 3U}) {
    solve::Work work;
    {
      const solve::CountingIn counting(&work);
      study::parallel(7, threads, [&](std::size_t) { solve::steady(line, tips); });
    }
    solve::steady(line, tips);
    const solve::WorkSum sum = work.sum();
    CHECK(sum.solves == 7);
    CHECK(sum.iterations == 7 * static_cast<std::size_t>(alone.report.iterations));
    CHECK(sum.evaluations == 7 * static_cast<std::size_t>(alone.report.evaluations));
    CHECK(sum.unknowns == static_cast<std::size_t>(alone.report.unknowns));
    CHECK(sum.worst_balance == alone.report.worst_balance);
    CHECK(sum.seconds > 0.0);
    CHECK(solve::Work::current() == nullptr);
  }
}

TEST_CASE("where nothing is lost no element is the worst", "[study][question][property]") {
  line::Line line = test::scenario("jewel-setter");
  std::erase_if(line.elements,
                [](const line::Element& e) { return e.kind != line::Kind::pump && e.kind != line::Kind::nozzle; });
  for (line::Element& e : line.elements) e.leaks.clear();
  study::RankOptions quick;
  quick.settle_gains = false;
  const study::Question question = study::rank_question(line, solve::all_tips(line, solve::TipState::open), quick);
  const std::vector<double> numbers = study::nominal(question, line);
  CHECK(numbers[measure(question, "total_loss_pa", "")] < 1e-3);
  for (const line::Element& e : line.elements) CHECK(numbers[measure(question, "worst_probability", e.name)] == 0.0);
}
