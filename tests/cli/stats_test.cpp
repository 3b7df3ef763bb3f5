// What an answer took.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/run.hpp"

using namespace airtally;
using Catch::Contains;
using test::run;
using Json = nlohmann::ordered_json;

namespace {

const std::string jewel = "lines/jewel-setter.toml";

Json json(std::vector<std::string> words) {
  words.insert(words.begin() + 2, {"--json", "--stats"});
  const test::Ran ran = run(words);
  CAPTURE(words, ran.err);
  REQUIRE(ran.code <= 1);
  CHECK(ran.err.empty());
  return Json::parse(ran.out);
}

/// The counts: all but the times, which differ from run to run.
Json counts(Json stats) {
  stats.erase("time_s");
  return stats;
}

}  // namespace

TEST_CASE("a decay, which solves no line, says what time it took", "[cli][stats][property]") {
  const Json with = json({"decay", "lines/readings/jewel-setter-twist-decay.csv", "--volume", "5mL"});
  for (const char* phase : {"read", "study", "report"}) CHECK(with["stats"]["time_s"][phase].get<double>() > 0.0);
}

TEST_CASE("every command says what its answer took, and answers the same", "[cli][stats][property]") {
  for (const char* command :
       {"check", "steady", "rise", "cycle", "rank", "strip", "hold", "sense", "compare", "report"}) {
    CAPTURE(command);
    std::vector<std::string> words{command, jewel};
    if (words[0] == "compare") words.insert(words.end(), {"--variant", "x: nozzle.bore=0.8 mm", "--no-bands"});
    Json with = json(words);
    const Json stats = with["stats"];
    CHECK(with.erase("stats") == 1);
    words.emplace_back("--json");
    CHECK(with == Json::parse(run(words).out));
    CHECK(stats["unknowns"].get<int>() >= 8);
    CHECK(stats["solves"].get<int>() > 0);
    CHECK(stats["iterations"].get<int>() >= stats["solves"].get<int>());
    CHECK(stats["residuals"].get<int>() >= stats["iterations"].get<int>());
    CHECK(stats["worst_balance"].get<double>() > 0.0);
    CHECK(stats["worst_balance"].get<double>() < 1e-9);
    for (const char* phase : {"read", "study", "solve", "report"}) CHECK(stats["time_s"][phase].get<double>() > 0.0);
    const bool in_time = stats["runs"].get<int>() > 0;
    CHECK(in_time == (stats["steps"].get<int>() > 0));
  }
}

TEST_CASE("the counts are those that the answer tells of itself", "[cli][stats][property]") {
  const Json steady = json({"steady", jewel, "--no-bands"});
  CHECK(steady["stats"]["solves"] == 1);
  CHECK(steady["stats"]["iterations"] == steady["iterations"]);
  CHECK(steady["stats"]["worst_balance"] == steady["worst_balance"]);
  CHECK(steady["stats"]["runs"] == 0);
  const Json rise = json({"rise", jewel, "--set", "head hose.length=0.2 m"});
  CHECK(rise["stats"]["runs"].get<int>() >= 1);
  CHECK(rise["stats"]["steps"].get<int>() >= rise["steps"].get<int>());
  CHECK(rise["stats"]["worst_run_balance"].get<double>() >= rise["worst_balance"].get<double>());
}

TEST_CASE("the counts don't hang on the threads", "[cli][stats][property]") {
  for (const char* command : {"steady", "rise", "rank"}) {
    const auto with = [&](const char* threads) {
      return counts(json({command, jewel, "--bands", "--samples", "16", "--threads", threads})["stats"]);
    };
    const Json one = with("1");
    CHECK(one["solves"].get<int>() > 16);
    CHECK(one == with("2"));
    CHECK(one == with("3"));
  }
}

TEST_CASE("a hunt takes other values too, and says what it took", "[cli][stats][property]") {
  const std::string readings = "lines/readings/jewel-setter.toml";
  Json with = json({"hunt", readings, "--quick"});
  CHECK(with["stats"]["solves"].get<int>() > 100);
  CHECK(with.erase("stats") == 1);
  CHECK(with == Json::parse(run({"hunt", readings, "--quick", "--json"}).out));
  const auto leak_of = [&](const char* hose) {
    const test::Ran ran = run({"hunt", readings, "--quick", "--json", "--set", hose});
    CAPTURE(ran.err);
    REQUIRE(ran.code == 0);
    return ran.out;
  };
  CHECK(leak_of("head hose.bore=2 mm") != leak_of("head hose.bore=3 mm"));
  const test::Ran wrong = run({"hunt", readings, "--set", "head hose.bor=2 mm"});
  CHECK(wrong.code == 2);
  CHECK_THAT(wrong.err, Contains("Did you mean 'bore'?"));
}

TEST_CASE("text and sweeps have what they took on standard error", "[cli][stats][property]") {
  const test::Ran text = run({"steady", jewel, "--stats"});
  CHECK(text.code == 0);
  CHECK(text.out == run({"steady", jewel}).out);
  CHECK_THAT(text.err, Contains("unknowns") && Contains("rejected steps") && Contains("worst balance"));
  for (const std::string& row : test::lines_of(text.err)) CHECK(row.size() <= 80);
  const std::vector<std::string> sweep{"steady", jewel, "--json", "--sweep", "part.gap=1 um, 2 um"};
  std::vector<std::string> counted = sweep;
  counted.emplace_back("--stats");
  const test::Ran lines = run(counted);
  CHECK(lines.out == run(sweep).out);
  CHECK_THAT(lines.err, Contains("residuals"));
}
