// What is said, where, and with which exit code, when something is wrong.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "cli/run.hpp"

using namespace airtally;
using Catch::Contains;
using test::Output;
using test::run;

namespace {

const std::string jewel = "lines/jewel-setter.toml";

/// A line file in a folder of its own, gone with this object.
class Draft {
 public:
  explicit Draft(const std::string& text) {
    std::string pattern = (std::filesystem::temp_directory_path() / "airtally-draft-XXXXXX").string();
    folder_ = mkdtemp(pattern.data());
    std::ofstream(file()) << text;
  }
  ~Draft() { std::filesystem::remove_all(folder_); }
  Draft(const Draft&) = delete;
  Draft& operator=(const Draft&) = delete;
  std::string file() const { return (folder_ / "line.toml").string(); }

 private:
  std::filesystem::path folder_;
};

const std::string sound = R"(format = 1
title = "Draft"
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "8 L/min"], ["71 kPa", "0 L/min"]]
[[element]]
name = "hose"
kind = "tube"
bore = "4 mm"
length = "0.8 m"
[[element]]
name = "nozzle"
kind = "nozzle"
bore = "1 mm"
length = "6 mm"
)";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

}  // namespace

TEST_CASE("a command line that can't be followed gets one sentence and exit code 2", "[cli][property]") {
  using Words = std::vector<std::string>;
  const std::vector<std::pair<Words, std::string>> all{
      {{"steady"}, "a line file is needed. See airtally steady --help."},
      {{"steady", jewel, "--unit", "psi"}, "--unit is no option of airtally steady. Did you mean '--units'?"},
      {{"rank", jewel, "--frobnicate"}, "--frobnicate is no option of airtally rank. See airtally rank --help."},
      {{"steady", jewel, "extra"}, "'extra' is one word too many; a name with spaces needs quotes."},
      {{"steady", jewel, "--tip"}, "--tip needs a value behind it. See airtally steady --help."},
      {{"steady", jewel, "--json=3"}, "--json takes no value. See airtally steady --help."},
      {{"steady", jewel, "--units", "furlong"},
       "--units: 'furlong' is no unit for a vacuum; choose one of kPa, Pa, hPa, mbar, bar, inHg, mmHg, Torr, psi, "
       "atm."},
      {{"steady", jewel, "--units", "mm"},
       "--units: 'mm' is no unit for a vacuum; choose one of kPa, Pa, hPa, mbar, bar, inHg, mmHg, Torr, psi, atm."},
      {{"steady", jewel, "--tip", "opne"},
       "--tip: 'opne' is no state of a tip; say open, part or blocked, or \"NOZZLE=open\" for one alone. Did you mean "
       "'open'?"},
      {{"steady", jewel, "--tip", "nozle=open"},
       "--tip: the line has no nozzle 'nozle'; it has nozzle. Did you mean 'nozzle'?"},
      {{"rise", "lines/two-spindle-sorter.toml", "--at", "valve1"},
       "--at: the line has no element 'valve1'; it has pump, check valve, reservoir, valve 1, filter 1, hose 1, joint "
       "1, "
       "spindle 1, nozzle 1, valve 2, filter 2, hose 2, joint 2, spindle 2, nozzle 2. Did you mean 'valve 1'?"},
      {{"rank", jewel, "--objective", "fast"}, "--objective: 'fast' is no objective; say tip-vacuum, hold or settle."},
      {{"rank", jewel, "--seed", "-3"}, "--seed: '-3' is not a whole number from 0 up, such as 1."},
      {{"hunt", "lines/readings/jewel-setter.toml", "--seed", "-1"},
       "--seed: '-1' is not a whole number from 0 up, such as 1."},
      {{"rank", jewel, "--bands", "--samples", "99999999999999"},
       "--samples: '99999999999999' is not a whole number from 16 to 1048576, such as 16."},
      {{"rank", jewel, "--bands", "--threads", "1000"},
       "--threads: '1000' is not a whole number from 1 to 256, such as 1."},
      {{"rise", jewel, "--log", "log.csv", "--sweep", "nozzle.bore=0.8..1 mm:2"},
       "--log is of one line and --sweep of many; choose one."},
      {{"strip", jewel, "--readings", "r.toml", "--sweep", "nozzle.bore=0.8..1 mm:2"},
       "--readings are of one line and --sweep of many; choose one."},
      {{"rise", jewel, "--thermal", "warm"}, "--thermal: 'warm' is not known; say isothermal, adiabatic or wall."},
      {{"strip", jewel, "--sheet", "--json"}, "--sheet is for paper and --json for programs; choose one of them."},
  };
  for (const auto& [words, sentence] : all) {
    CAPTURE(words);
    const test::Ran ran = run(words);
    CHECK(ran.code == 2);
    CHECK(ran.out.empty());
    CHECK(ran.err == "airtally: " + sentence + "\n");
  }
}

TEST_CASE("a mistyped command gets the list and the nearest one", "[cli][property]") {
  const test::Ran ran = run({"stedy", jewel});
  CHECK(ran.code == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Catch::StartsWith("airtally: 'stedy' is no command; the commands are new, check, steady, "));
  CHECK_THAT(ran.err, Catch::EndsWith(". Did you mean 'steady'?\n"));
}

TEST_CASE("a file that is not there, or no file, is bad input", "[cli][property]") {
  for (const char* file : {"lines/nothing.toml", "lines", ""}) {
    CAPTURE(file);
    const test::Ran ran = run({"check", file});
    CHECK(ran.code == 2);
    CHECK(ran.out.empty());
    CHECK(!ran.err.empty());
  }
}

TEST_CASE("every mistake in a line file is shown with its place", "[cli][property]") {
  const Draft draft(replaced(replaced(sound, "\"4 mm\"", "4"), "\"1 mm\"", "\"1 kPa\""));
  for (const char* command : {"check", "steady", "rise", "rank", "strip"}) {
    const test::Ran ran = run({command, draft.file(), "--json"});
    CHECK(ran.code == 2);
    CHECK(ran.out.empty());
    const auto lines = test::lines_of(ran.err);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].find(draft.file() + ":10:8: ") == 0);
    CHECK(lines[1].find(draft.file() + ":15:8: ") == 0);
  }
}

TEST_CASE("check tells what is wrong in every table at once, whichever command reads it", "[cli][property]") {
  const Draft draft(
      replaced(replaced(sound, "title = \"Draft\"\n", "[site]\naltitude = \"340 mm\"\n"), "[\"71 kPa\", \"0 L/min\"]",
               "[71, \"0 L/min\"]") +
      "[part]\nmass = \"12 mm\"\n[move]\nlift = \"1 m\"\n[cycle]\ntouch = \"1 m\"\nplace = \"1 s\"\n"
      "[sensor]\nat = \"hose\"\nswitch = { on = \"45 kPa\", hysteresis = 2 }\n"
      "[twist]\nlimit = \"1 m\"\nmotor = { speed = \"1 rpm\", acceleration = \"1 rad/s2\" }\n"
      "[[other-part]]\nname = \"o\"\nmass = 3\n[[other-nozzle]]\nname = \"n\"\nbore = 1\nlength = \"1 mm\"\n");
  const test::Ran ran = run({"check", draft.file()});
  CHECK(ran.code == 2);
  CHECK(ran.out.empty());
  const auto lines = test::lines_of(ran.err);
  const std::vector<std::string> places{
      "3:12: site:",    "7:33: element 'pump':", "19:8: part:",         "21:8: move:",          "23:9: cycle:",
      "27:40: sensor:", "29:9: twist:",          "33:8: other-part 1:", "36:8: other-nozzle 1:"};
  REQUIRE(lines.size() == places.size());
  for (std::size_t k = 0; k < places.size(); ++k) CHECK(lines[k].find(draft.file() + ":" + places[k]) == 0);
}

TEST_CASE("what is wrong with the whole file is told once by check", "[cli][property]") {
  for (const std::string& text : {replaced(sound, "kind = \"pump\"", "kind = pump"), sound + "use = 3\n"}) {
    const Draft draft(text);
    CHECK(test::lines_of(run({"check", draft.file()}).err).size() == 1);
  }
  const Draft draft(sound);
  CHECK(test::lines_of(run({"check", draft.file(), "--set", "hose.boor=4 mm"}).err).size() == 1);
}

TEST_CASE("what is wrong with the line as a graph is bad input too", "[cli][property]") {
  const Draft draft(replaced(sound, "\"nozzle\"\nkind", "\"hose\"\nkind"));
  const test::Ran ran = run({"check", draft.file()});
  CHECK(ran.code == 2);
  CHECK(ran.out.empty());
  CHECK(ran.err == draft.file() +
                       ":13:8: the name 'hose' is taken by the element in line 8; every element needs a name of "
                       "its own.\n");
}

// A pump of ten thousand litres a minute on a bore of 0.01 mm beside one of 100 mm: the file may say so, but the times
// in it lie too far apart for the integrator, which gives up. Should it learn to follow this line, another must be
// found.
TEST_CASE("a solver that gives up says where, gives no number, and ends with 3", "[cli][property]") {
  // A hair's width before two discs, which a pump of fifty litres a second empties for a quarter of a minute.
  const Draft draft(R"(format = 1
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "5000 L/min"], ["101 kPa", "0 L/min"]]
[[element]]
name = "pinhole"
kind = "tube"
bore = "0.01 mm"
length = "1 mm"
[[element]]
name = "disc 1"
kind = "tube"
bore = "100 mm"
length = "0.01 mm"
[[element]]
name = "disc 2"
kind = "tube"
bore = "80 mm"
length = "0.02 mm"
[[element]]
name = "nozzle"
kind = "nozzle"
bore = "60 mm"
length = "1 mm"
)");
  const test::Ran ran = run({"rise", draft.file(), "--tip", "blocked"});
  CHECK(ran.code == 3);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Catch::StartsWith("airtally: the run stopped at "));
  CHECK(test::lines_of(ran.err).size() == 1);
}

TEST_CASE("a line without a part can't have one on", "[cli][property]") {
  const Draft draft(sound);
  CHECK(run({"steady", draft.file()}).code == 0);
  const test::Ran ran = run({"steady", draft.file(), "--tip", "part"});
  CHECK(ran.code == 2);
  CHECK_THAT(ran.err, Contains("has no [part]"));
}

TEST_CASE("a name can't command the terminal", "[cli][property]") {
  const Draft draft(replaced(sound, "\"Draft\"", "\"\\u001b[2Jgone\""));
  for (const char* command : {"check", "steady", "rise", "rank", "strip"}) {
    const test::Ran ran = run({command, draft.file()});
    CHECK(ran.code == 0);
    CHECK(ran.out.find('\x1b') == std::string::npos);
    CHECK_THAT(ran.out, Contains("?[2Jgone"));
  }
}

TEST_CASE("colour is for terminals, and never under NO_COLOR", "[cli][property]") {
  const std::vector<std::string> words{"rank", jewel};
  const auto coloured = [&](Output output, const std::map<std::string, std::string>& environment) {
    const test::Ran ran = run(words, output, environment);
    CHECK(ran.code == 0);
    CHECK_THAT(ran.out, Contains("rotary joint"));
    return ran.out.find('\x1b') != std::string::npos;
  };
  CHECK(coloured(Output::terminal, {{"TERM", "xterm"}}));
  CHECK_FALSE(coloured(Output::terminal, {{"TERM", "xterm"}, {"NO_COLOR", "1"}}));
  CHECK_FALSE(coloured(Output::terminal, {{"TERM", "xterm"}, {"NO_COLOR", ""}}));
  CHECK_FALSE(coloured(Output::terminal, {{"TERM", "dumb"}}));
  CHECK_FALSE(coloured(Output::terminal, {}));
  CHECK_FALSE(coloured(Output::pipe, {{"TERM", "xterm"}}));
}

TEST_CASE("a reader that leaves early is no error, a full disk is", "[cli][property]") {
  const test::Ran closed = run({"rise", jewel, "--json"}, Output::closed);
  CHECK(closed.code == 0);
  CHECK(closed.err.empty());
  const test::Ran full = run({"rank", jewel}, Output::full);
  CHECK(full.code == 1);
  CHECK(full.err == "airtally: the answer could not be written: No space left on device.\n");
}
