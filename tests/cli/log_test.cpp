// `rise --log`: a measured pull-down beside the line's own.
#include <stdlib.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/run.hpp"
#include "report/width.hpp"

using namespace airtally;
using Catch::Matchers::Contains;
using test::run;
using Json = nlohmann::json;

namespace {

/// A log in a folder of its own.
class LogFile {
 public:
  explicit LogFile(const std::string& text) {
    std::string pattern = (std::filesystem::temp_directory_path() / "airtally-log-XXXXXX").string();
    folder_ = mkdtemp(pattern.data());
    std::ofstream(name()) << text;
  }
  ~LogFile() { std::filesystem::remove_all(folder_); }
  LogFile(const LogFile&) = delete;
  LogFile& operator=(const LogFile&) = delete;
  std::string name() const { return (folder_ / "measured.csv").string(); }

 private:
  std::filesystem::path folder_;
};

/// The line's own course at its gauge, all vacuums times `factor`.
std::string course(double factor) {
  const test::Ran ran = run({"rise", "lines/jewel-setter.toml", "--tip", "open", "--at", "gauge tee", "--json"});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  std::string text = "# made by the tests\ntime [ms]; vacuum [kPa]\n";
  const Json json = Json::parse(ran.out);
  for (const Json& sample : json["samples"])
    text += std::to_string(1e3 * sample["time_s"].get<double>()) + ";" +
            std::to_string(1e-3 * factor * sample["vacuum_pa"]["gauge tee"].get<double>()) + "\n";
  return text;
}

}  // namespace

TEST_CASE("a log of the line itself is met, at its one gauge", "[cli][property]") {
  const LogFile log(course(1.0));
  const test::Ran ran = run({"rise", "lines/jewel-setter.toml", "--tip", "open", "--log", log.name(), "--json"});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  const Json json = Json::parse(ran.out)["log"];
  CHECK(json["place"] == "gauge tee");
  CHECK(json["rows"] == 121);
  CHECK(json["as_written"]["rms_pa"].get<double>() < 5.0);
  CHECK(std::fabs(json["volume_factor"]["value"].get<double>() - 1.0) < 1e-3);
  CHECK(std::fabs(json["pump_flow_factor"]["value"].get<double>() - 1.0) < 1e-3);
}

TEST_CASE("the text shows both curves, the misfit and the factors", "[cli][property]") {
  const LogFile log(course(0.9));
  const test::Ran ran = run({"rise", "lines/jewel-setter.toml", "--tip", "open", "--log", log.name(), "--ascii"});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  CHECK_THAT(ran.out, Contains("o measured") && Contains("x as the file says"));
  CHECK_THAT(ran.out, Contains("121 rows at gauge tee: the line as its file says is off by"));
  CHECK_THAT(ran.out, Contains("too deep."));
  CHECK_THAT(ran.out, Contains("takes less than its curve says."));
  for (const std::string& row : test::lines_of(ran.out)) {
    CAPTURE(row);
    CHECK((report::width(row) <= 80 || row.find(log.name()) != std::string::npos));
  }
}

TEST_CASE("a bad log is bad input, told with its place", "[cli][property]") {
  const LogFile log("time_s,vacuum_kPa\n0,0\n0.2,10\n0.1,20\n0.3,x\n");
  const test::Ran ran = run({"rise", "lines/jewel-setter.toml", "--log", log.name()});
  CHECK(ran.code == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Contains(log.name() + ":4:1: time 0.1 does not rise"));
  CHECK_THAT(ran.err, Contains(log.name() + ":5:5: 'x' is no number"));
  CHECK(run({"rise", "lines/jewel-setter.toml", "--log", "no-such.csv"}).code == 2);
}

// A step and then noise: the best leak is none, and a number that is none must not be shown as one.
TEST_CASE("a decay without a rise is told by its limits", "[cli][property]") {
  const LogFile log(
      "time_s, vacuum_kPa\n0, 60\n1, 59.5\n2, 59.52\n3, 59.49\n4, 59.51\n5, 59.5\n6, 59.52\n7, 59.5\n8, 59.51\n9, "
      "59.53\n10, 59.52\n11, 59.51\n12, 59.5\n");
  const test::Ran volume = run({"decay", log.name(), "--leak", "5 mL/min"});
  CHECK(volume.code == 0);
  CHECK_THAT(volume.out, Contains("The volume is at least "));
  const test::Ran leak = run({"decay", log.name(), "--volume", "50 mL"});
  CHECK_THAT(leak.out, Contains("The leak is at most 0.") && !Contains("at most 0 "));
  CHECK_THAT(run({"decay", log.name()}).out, Contains("The pressure rises by at most "));
  const test::Ran programs = run({"decay", log.name(), "--leak", "5 mL/min", "--json"});
  INFO(programs.err);
  REQUIRE(programs.code == 0);
  const Json json = Json::parse(programs.out)["volume_m3"];
  CHECK(json["median"].is_null());
  CHECK(json["high"].is_null());
  CHECK(json["low"].get<double>() > 0.0);
}

TEST_CASE("what a decay is asked with must not answer itself, and its numbers are plain", "[cli][property]") {
  const std::string log = "lines/readings/jewel-setter-twist-decay.csv";
  const test::Ran both = run({"decay", log, "--volume", "5mL", "--leak", "4 mL/min"});
  CHECK(both.code == 2);
  CHECK(both.err == "airtally: --volume asks for the leak and --leak for the volume; give the one that you know.\n");
  CHECK_THAT(run({"decay", log, "--volume", "5mL", "--hole", "0.1 mm"}).err, Contains("and --hole for the volume"));
  CHECK_THAT(run({"decay", log}).out, Contains("The pressure rises by 1.16 kPa/s (nine in ten: "));
}

// A change by half a degree is half a kelvin, and not 273.65 K.
TEST_CASE("a drift is a difference of temperatures", "[cli][property]") {
  const auto with = [](const std::string& drift) {
    return run({"decay", "lines/readings/jewel-setter-twist-decay.csv", "--volume", "5mL", "--drift", drift});
  };
  CHECK(with("0.5 C").out == with("0.5 K").out);
  CHECK(with("0.9 F").out == with("0.5 K").out);
  CHECK_THAT(with("5").err, Contains("\"0.5 K\"") && !Contains("21 C"));
  CHECK_THAT(with("280 K").err, Contains("--drift 280 K is outside 0.01 K .. 20 K"));
}

// The same limits as for the same thing in a file, and no tolerance that nothing makes use of.
TEST_CASE("what a decay is asked with keeps to what a file may say", "[cli][property]") {
  const std::string log = "lines/readings/jewel-setter-twist-decay.csv";
  const auto refusal = [&](const std::string& option, const std::string& value) {
    std::vector<std::string> words{"decay", log};
    if (option == "--ambient" || option == "--drift") words.insert(words.end(), {"--volume", "5 mL"});
    words.insert(words.end(), {option, value});
    const test::Ran ran = run(words);
    CHECK(ran.code == 2);
    return ran.err;
  };
  CHECK(refusal("--ambient", "1000 MPa") == "airtally: --ambient 1000 MPa is outside 20 kPa .. 120 kPa.\n");
  CHECK_THAT(refusal("--ambient", "250 +- 200 kPa"), Contains("reaches outside 20 kPa .. 120 kPa."));
  CHECK(refusal("--ambient", "98 +- 1 kPa") ==
        "airtally: --ambient 98 +- 1 kPa: it must be a single value, without a tolerance or range.\n");
  CHECK_THAT(refusal("--drift", "0.5 +- 0.2 K"), Contains("must be a single value"));
  CHECK_THAT(refusal("--volume", "1e9 m3"), Contains("--volume 1e9 m3 is outside 0 mL .. 1000 L."));
  CHECK_THAT(refusal("--leak", "20000 L/min"), Contains("is outside 0 L/min .. 10000 L/min."));
  CHECK_THAT(refusal("--hole", "9.9 +- 0.2 mm"), Contains("reaches outside 0.001 mm .. 10 mm."));
}

TEST_CASE("a decay that can't be told says so instead of a range", "[cli][property]") {
  const LogFile opened("time_s,vacuum_kPa\n0,60\n1,59\n2,58\n3,57\n4,56\n5,55\n6,2\n7,0\n8,0\n9,0\n");
  const test::Ran no_decay = run({"decay", opened.name(), "--volume", "5 mL"});
  CHECK_THAT(no_decay.out, Contains("No leak can be told") && !Contains("nine in ten"));
  CHECK(Json::parse(run({"decay", opened.name(), "--json"}).out)["follows"] == false);
  const LogFile torn("time_s,vacuum_kPa\n0,60\n1,0\n2,0\n3,0\n4,0\n5,0\n");
  CHECK_THAT(run({"decay", torn.name(), "--volume", "5 mL"}).out, Contains("The leak is at least 0.17") &&
                                                                      Contains("The vacuum is gone at 1.00 s") &&
                                                                      !Contains("By two points"));
  CHECK_THAT(run({"decay", torn.name(), "--leak", "5 mL/min"}).out, Contains("The volume is at most "));
  const Json least = Json::parse(run({"decay", torn.name(), "--volume", "5 mL", "--json"}).out);
  CHECK(least["least_only"] == true);
  CHECK(least["leak_ml_min"]["low"].get<double>() > 0.0);
  CHECK(least["leak_ml_min"]["median"].is_null());
  CHECK(least["rms_pa"].is_null());
  const LogFile flat("time_s,vacuum_kPa\n0,60\n1,60\n2,60\n3,60\n4,60\n5,60\n");
  CHECK_THAT(run({"decay", flat.name(), "--volume", "5 mL"}).out,
             Contains("The leak is at most ") && Contains("shows no loss at all") && !Contains("fits best"));
  CHECK_THAT(run({"decay", flat.name(), "--volume", "5..500 mL"}).out, Contains("5.00 mL to 500 mL"));
  const LogFile brief("time_s,vacuum_kPa\n0,10\n1,20\n2,60\n3,59\n4,58\n5,57\n");
  CHECK_THAT(run({"decay", brief.name()}).err,
             Contains(brief.name() + ":4:3: the pump counts as shut off here") && Contains("has 4 rows"));
}
