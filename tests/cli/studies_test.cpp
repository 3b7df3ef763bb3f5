// Bands, sweeps, shards and --set, as they are typed.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "cli/run.hpp"

using namespace airtally;
using Catch::Contains;
using test::run;
using Json = nlohmann::ordered_json;

namespace {

const std::string jewel = "lines/jewel-setter.toml";
const std::string unsure = "rotary joint.leak.clearance=20..45 um";

std::string out(const std::vector<std::string>& words) {
  const test::Ran ran = run(words);
  CAPTURE(words, ran.err);
  CHECK(ran.code == 0);
  return ran.out;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::string errors(const std::vector<std::string>& words) {
  const test::Ran ran = run(words);
  CHECK(ran.code == 0);
  return ran.err;
}

std::string refusal(const std::vector<std::string>& words) {
  const test::Ran ran = run(words);
  CAPTURE(words, ran.out);
  CHECK(ran.code == 2);
  CHECK(ran.out.empty());
  return ran.err;
}

}  // namespace

TEST_CASE("bands that are alike on all nozzles share a row", "[cli][property]") {
  const std::vector<std::string> rows = lines_of(out({"hold", "lines/seed-tray.toml", "--samples", "16"}));
  const auto begins = [&](const std::string& words) {
    return std::count_if(rows.begin(), rows.end(), [&](const std::string& row) { return row.starts_with(words); });
  };
  CHECK(begins("has, ") == 1);
  CHECK(begins("has, each of 8") == 1);
  CHECK(begins("to spare, each of 8") == 1);
  // With one bare the bank that it is on is worse off than the other.
  const std::string text = out({"hold", "lines/seed-tray.toml", "--samples", "16", "--tip", "needle 3=open"});
  CHECK_THAT(text, Contains("has, needle 5 to needle 8"));
}

TEST_CASE("the same seed gives the same bytes on any number of threads", "[cli][property]") {
  for (const char* command : {"steady", "hold", "rank", "rise", "cycle", "strip", "sense"}) {
    const std::string samples = command == std::string("cycle") ? "16" : "32";
    const std::vector<std::string> words{command, jewel, "--json", "--bands", "--samples", samples, "--set", unsure};
    CAPTURE(command);
    const auto with = [&](std::initializer_list<std::string> more) {
      std::vector<std::string> all = words;
      all.insert(all.end(), more);
      const test::Ran ran = run(all);
      CAPTURE(ran.err);
      REQUIRE(ran.code <= 1);
      return ran.out;
    };
    const std::string one = with({"--threads", "1"});
    CHECK(one == with({"--threads", "2"}));
    CHECK(one == with({"--threads", "3"}));
    CHECK(one != with({"--seed", "2"}));
    const Json bands = Json::parse(one)["bands"];
    CHECK(bands["samples"] == std::stoi(samples));
    CHECK(bands["failed"] == 0);
    CHECK(bands["measure_next"] == "rotary joint.leak.clearance");
    for (const Json& output : bands["outputs"]) {
      if (!output.contains("median") || output["median"].is_null()) continue;  // a gauge that is off
      CHECK(output["low"].get<double>() <= output["median"].get<double>());
      CHECK(output["median"].get<double>() <= output["high"].get<double>());
    }
  }
}

TEST_CASE("bands stand beside the answer and change nothing of it", "[cli][property]") {
  Json with = Json::parse(out({"steady", jewel, "--json"}));
  const Json without = Json::parse(out({"steady", jewel, "--json", "--no-bands"}));
  CHECK(with.erase("bands") == 1);
  CHECK(with == without);
  const std::string text = out({"steady", jewel}), plain = out({"steady", jewel, "--no-bands"});
  CHECK(text.substr(0, plain.size()) == plain);
  CHECK_THAT(text, Contains("How sure") && Contains("nine in ten") && Contains("Measure next: part.gap"));
  // A file that is sure of everything has none, unasked; asked for, it says why.
  const std::vector<std::string> sure{"--set", "filter.leak.rated=1 mL/min", "--set", "part.gap=4 um"};
  std::vector<std::string> words{"steady", jewel};
  words.insert(words.end(), sure.begin(), sure.end());
  CHECK_THAT(out(words), !Contains("How sure"));
  words.push_back("--bands");
  CHECK_THAT(refusal(words), Contains("the file is sure of everything"));
}

TEST_CASE("the odds of each element being the worst add up to one", "[cli][property]") {
  const Json bands = Json::parse(
      out({"rank", jewel, "--json", "--bands", "--samples", "64", "--set", "rotary joint.leak.clearance=5..45 um",
           "--set", "supply hose.leak.rated=5..500 mL/min"}))["bands"];
  double sum = 0.0, joint = 0.0, hose = 0.0;
  for (const Json& output : bands["outputs"]) {
    if (output["key"] != "worst_probability") continue;
    sum += output["probability"].get<double>();
    if (output["name"] == "rotary joint") joint = output["probability"];
    if (output["name"] == "supply hose") hose = output["probability"];
  }
  CHECK(sum == Approx(1.0).margin(1e-12));
  CHECK(joint > 0.5);
  CHECK(hose > 0.1);
  CHECK(joint + hose == Approx(1.0).margin(1e-12));
}

TEST_CASE("every point of a sweep is the run with that value set", "[cli][property]") {
  for (const char* command : {"steady", "rise", "hold", "rank", "cycle", "strip", "sense"}) {
    CAPTURE(command);
    const auto answer = [&](const char* option, const std::string& value) {
      return run({command, jewel, "--json", "--no-bands", option, value}).out;
    };
    const auto points = lines_of(answer("--sweep", "head hose.length=0.2..0.8 m:3"));
    REQUIRE(points.size() == 3);
    const std::vector<std::string> values{"0.2 m", "0.5 m", "0.8 m"};
    for (std::size_t k = 0; k < 3; ++k) {
      Json point = Json::parse(points[k]);
      CHECK(point["set"]["head hose.length"] == values[k]);
      point.erase("set");
      CHECK(point == Json::parse(answer("--set", "head hose.length=" + values[k])));
    }
  }
}

TEST_CASE("the shards of a sweep are all of it, each point once and in its order", "[cli][property]") {
  const std::vector<std::string> sweep{"steady",
                                       jewel,
                                       "--json",
                                       "--sweep",
                                       "nozzle.bore=0.4..1.6 mm:5",
                                       "--sweep",
                                       "rotary joint.leak.clearance=10..40 um:3 log"};
  const auto whole = lines_of(out(sweep));
  REQUIRE(whole.size() == 15);
  CHECK(std::set<std::string>(whole.begin(), whole.end()).size() == 15);
  std::vector<std::string> joined(15);
  for (std::size_t k = 0; k < 4; ++k) {
    std::vector<std::string> words = sweep;
    words.insert(words.end(), {"--shard", std::to_string(k + 1) + "/4", "--threads", std::to_string(k + 1)});
    const auto part = lines_of(out(words));
    for (std::size_t i = 0; i < part.size(); ++i) joined.at(k + 4 * i) = part[i];
  }
  CHECK(joined == whole);
  // Equal factors: 10, 20 and 40 um.
  CHECK(Json::parse(whole[1])["set"]["rotary joint.leak.clearance"] == "20 um");
}

TEST_CASE("a shard of any command is its part of the table", "[cli][property]") {
  for (const char* command : {"steady", "rise", "hold", "rank", "cycle", "strip", "sense"}) {
    CAPTURE(command);
    const std::vector<std::string> sweep{command, jewel, "--csv", "--sweep", "head hose.length=0.2..0.8 m:5"};
    const auto whole = lines_of(out(sweep));
    REQUIRE(whole.size() == 6);
    std::vector<std::string> joined(6, whole[0]);
    for (std::size_t k = 0; k < 3; ++k) {
      std::vector<std::string> words = sweep;
      words.insert(words.end(), {"--shard", std::to_string(k + 1) + "/3"});
      const auto part = lines_of(out(words));
      CHECK(part.at(0) == whole[0]);
      for (std::size_t i = 1; i < part.size(); ++i) joined.at(1 + k + 3 * (i - 1)) = part[i];
    }
    CHECK(joined == whole);
  }
}

TEST_CASE("the odds of each step being the biggest add up to one where there is one", "[cli][property]") {
  const Json bands =
      Json::parse(out({"strip", jewel, "--json", "--bands", "--samples", "32", "--set", unsure}))["bands"];
  double sum = 0.0;
  for (const Json& output : bands["outputs"])
    if (output["key"] == "culprit_probability") sum += output["probability"].get<double>();
  CHECK(sum == Approx(1.0).margin(1e-12));
}

TEST_CASE("what an answer does not hang on is not drawn for it", "[cli][property]") {
  const std::vector<std::string> unsure_of{"--set",     "move.friction=0.2..0.4",
                                           "--set",     "cycle.touch=60 ms +- 5 ms",
                                           "--set",     "sensor.span=90..110 mV",
                                           "--samples", "16",
                                           "--bands",   "--json",
                                           "--set",     "part.gap=4 um",
                                           "--set",     "filter.leak.rated=1 mL/min"};
  const auto inputs = [&](const char* command) {
    std::vector<std::string> words{command, jewel};
    words.insert(words.end(), unsure_of.begin(), unsure_of.end());
    const test::Ran ran = run(words);
    std::vector<std::string> names;
    if (ran.code > 1) return names;
    const Json answer = Json::parse(ran.out);
    for (const Json& input : answer["bands"]["inputs"]) names.push_back(input["name"]);
    return names;
  };
  CHECK(inputs("steady").empty());  // refused: it is sure of all that this hangs on
  CHECK(inputs("hold") == std::vector<std::string>{"move.friction"});
  CHECK(inputs("cycle") == std::vector<std::string>{"move.friction", "cycle.touch"});
  CHECK(inputs("sense") == std::vector<std::string>{"sensor.span"});
}

TEST_CASE("a long study shows how far it is, on a terminal and nowhere else", "[cli][property]") {
  const std::vector<std::string> words{"steady", jewel, "--json", "--bands", "--samples", "131072", "--set", unsure};
  const test::Ran plain = run(words), watched = run(words, test::Output::watched);
  CHECK(plain.code == 0);
  CHECK(plain.err.empty());
  CHECK(watched.out == plain.out);
  CHECK_THAT(watched.err, Contains("[#") && Contains(" %"));
  CHECK_THAT(watched.err, Catch::Matchers::EndsWith("\r\033[K"));    // and is gone when it is done
  CHECK(run({"steady", jewel}, test::Output::watched).err.empty());  // what is quick shows none
}

TEST_CASE("a sweep is a table, or CSV with a head", "[cli][property]") {
  const std::string text = out({"steady", jewel, "--sweep", "part.gap=1 um, 4 um"});
  CHECK_THAT(text, Contains("1 um") && Contains("4 um") && Contains("(1) vacuum at the tip"));
  const auto rows = lines_of(out({"steady", jewel, "--csv", "--sweep", "part.gap=1 um, 4 um"}));
  REQUIRE(rows.size() == 3);
  CHECK(rows[0].rfind("part.gap,tip_vacuum_pa nozzle,", 0) == 0);
  const double vacuum = std::stod(rows[2].substr(rows[2].find(',') + 1));
  const Json steady = Json::parse(out({"steady", jewel, "--json", "--no-bands"}));
  CHECK(vacuum == Approx(steady["tips"][0]["mouth_vacuum_pa"].get<double>()).epsilon(1e-9));
}

TEST_CASE("a tip that comes to next to no vacuum has no settle time", "[cli][property]") {
  const auto text = out(
      {"rise", jewel, "--no-bands", "--set", "rotary joint.leak.clearance=400 um", "--set", "supply hose.bore=0.1 mm"});
  CHECK_THAT(text, Contains("the tip comes to <0.001 kPa: too little for a settle time."));
  CHECK(text.find("settles in") == std::string::npos);
}

TEST_CASE("a sweep says where a law is beyond its range", "[cli][property]") {
  const auto said = errors({"steady", jewel, "--sweep", "part.gap=2 um, 80 um, 120 um"});
  CAPTURE(said);
  CHECK_THAT(said, Contains("airtally: take this with care: at 2 of 3 values, first at part.gap=80 um: the gap between "
                            "the part and 'nozzle' "));
  CHECK(errors({"steady", jewel, "--sweep", "part.gap=1 um, 2 um"}).find("the gap between") == std::string::npos);
}

TEST_CASE("a hose that would flatten is told beside every answer about the line", "[cli][property]") {
  const auto soft = [](const std::string& command) {
    return errors(
        {command, jewel, "--no-bands", "--set", "supply hose.wall=0.5 mm", "--set", "supply hose.modulus=2 MPa"});
  };
  for (const char* command : {"steady", "rank", "hold", "rise", "cycle", "strip"}) {
    const std::string said = soft(command);
    CAPTURE(command, said);
    CHECK_THAT(said, Contains("airtally: take this with care: 'supply hose' flattens at "));
    CHECK_THAT(errors({command, jewel, "--no-bands"}), !Contains("flattens"));
  }
}

TEST_CASE("nozzles that a part does not close are told in sentences", "[cli][property]") {
  const auto said = [](std::initializer_list<std::string> more) {
    std::vector<std::string> words{"steady", "lines/seed-tray.toml", "--set", "part.length=0.3 mm",
                                   "--set",  "part.width=0.3 mm"};
    words.insert(words.end(), more);
    return errors(words);
  };
  CHECK_THAT(said({}), Contains(": it is sucked in. So it is with 7 other nozzles. They are taken to be open."));
  CHECK_THAT(said({"--tip", "part"}),
             Contains(". So it is with 7 other nozzles. As --tip asks, they are taken to seal."));
}

TEST_CASE("the ends of a sweep may have different units", "[cli][property]") {
  const auto mixed = lines_of(out({"steady", jewel, "--csv", "--sweep", "nozzle.bore=400 um..1 mm:3"}));
  const auto same = lines_of(out({"steady", jewel, "--csv", "--sweep", "nozzle.bore=0.4..1 mm:3"}));
  REQUIRE(mixed.size() == 4);
  CHECK(mixed == same);
}

TEST_CASE("studies that can't be done are refused with what to do", "[cli][property]") {
  CHECK_THAT(refusal({"steady", jewel, "--sweep", "nozzle.bore=0.4..2 mm"}), Contains("behind a colon how many"));
  CHECK_THAT(refusal({"steady", jewel, "--sweep", "nozzle.bore=0.4..2 m:5"}),
             Contains("--sweep 'nozzle.bore=0.4..2 m:5': element 'nozzle': bore = 0.4 m is outside"));
  CHECK_THAT(refusal({"steady", jewel, "--sweep", "nozzle.bore=0.4 mm..2 kPa:5"}),
             Contains("both ends need units of one kind, but the first has 'mm' and the second 'kPa'"));
  CHECK_THAT(refusal({"steady", jewel, "--sweep", "part.gap=0..2 um:5 log"}), Contains("above zero"));
  CHECK_THAT(refusal({"steady", jewel, "--sweep", "part.gap=0..2 um:1"}), Contains("whole number from 2 up"));
  CHECK_THAT(refusal({"steady", jewel, "--sweep", "part.gap"}), Contains("write a name and its values"));
  CHECK_THAT(refusal({"steady", jewel, "--shard", "1/2"}), Contains("give a --sweep"));
  CHECK_THAT(refusal({"steady", jewel, "--sweep", "part.gap=1 um,2 um", "--shard", "3/2"}), Contains("no part 3 of 2"));
  CHECK_THAT(refusal({"steady", jewel, "--csv"}), Contains("--csv is for sweeps"));
  CHECK_THAT(refusal({"steady", jewel, "--samples", "few"}), Contains("'few' is not a whole number"));
  CHECK_THAT(refusal({"steady", jewel, "--threads", "0"}), Contains("whole number from 1 to 256"));
  CHECK_THAT(refusal({"steady", jewel, "--bands", "--no-bands"}), Contains("contradict"));
  CHECK_THAT(refusal({"steady", jewel, "--set", "nozzle.bor=1 mm"}), Contains("Did you mean 'bore'?"));
}
