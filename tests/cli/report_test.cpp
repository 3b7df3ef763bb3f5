// `report`: one page in one file, for any names, whole or not at all.
#include <stdlib.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run.hpp"
#include "support/well_formed.hpp"

using namespace airtally;
using Catch::Contains;
using test::run;
using Json = nlohmann::json;

namespace {

/// A folder of its own, gone with this object.
class Folder {
 public:
  Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "airtally-page-XXXXXX").string();
    path_ = mkdtemp(pattern.data());
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string file(const std::string& name) const { return (path_ / name).string(); }
  std::size_t files() const {
    return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(path_), {}));
  }

 private:
  std::filesystem::path path_;
};

std::string text_of(const std::string& file) {
  std::ifstream in(file);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

/// Names that would do harm if they were not made harmless.
const std::string hostile = R"(format = 1
title = "</title><script>alert(1)</script> \u001b[31m"
[[element]]
name = "pump\"'&<img src=x onerror=alert(2)>"
kind = "pump"
curve = [["0 kPa", "8 L/min"], ["71 kPa", "0 L/min"]]
[[element]]
name = "hose \u202Eback-to-front and a good deal too long"
kind = "tube"
bore = "4 mm"
length = "0.8 m"
leak = { hole = "0.1..0.2 mm" }
[[element]]
name = "</script><!-- \u2016 "
kind = "nozzle"
bore = "1 mm"
length = "6 mm"
)";

}  // namespace

TEST_CASE("a page is one well-formed file that asks for nothing else", "[cli][property]") {
  const test::Ran ran = run({"report", "lines/jewel-setter.toml", "lines/readings/jewel-setter.toml"});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  CHECK(tests::well_formed(ran.out) == "");
  CHECK_THAT(ran.out, Contains("default-src 'none'") || Contains("default-src &#39;none&#39;"));
  for (const char* outside : {"src=\"", "<link", "@import", "url(", "http-equiv=\"refresh\""}) {
    CAPTURE(outside);
    CHECK_THAT(ran.out, !Contains(outside));
  }
  for (const char* id : {"schematic", "staircase", "shares", "costs", "pump", "rise", "cycle", "hunt", "sensing"}) {
    CAPTURE(id);
    CHECK_THAT(ran.out, Contains("<figure id=\"" + std::string(id) + "\""));
  }
  // The same words as on the terminal.
  CHECK_THAT(ran.out, Contains("The rotary joint costs the tip"));
  CHECK_THAT(ran.out, Contains("lock out the moving axes"));
}

TEST_CASE("where the line forks, the page has what the instrument reads without each branch", "[cli][property]") {
  const test::Ran forked = run({"report", "lines/two-spindle-sorter.toml", "--no-bands"});
  REQUIRE(forked.code == 0);
  CHECK(tests::well_formed(forked.out) == "");
  const Json strip = Json::parse(run({"strip", "lines/two-spindle-sorter.toml", "--json", "--no-bands"}).out);
  REQUIRE(!strip["branches"].empty());
  const std::size_t table = forked.out.find("One branch off at a time");
  REQUIRE(table != std::string::npos);
  for (const Json& branch : strip["branches"])
    CHECK(forked.out.find("<tr data-name=\"" + branch["off"].get<std::string>() + '"', table) != std::string::npos);
  CHECK_THAT(run({"report", "lines/jewel-setter.toml", "--no-bands"}).out, !Contains("One branch off at a time"));
}

TEST_CASE("a page with readings says whose numbers are whose, and asks for none that it has", "[cli][property]") {
  const Folder folder;
  // The pump is worn: by its plug, and by the tee's gauge, it pulls 10.6 kPa less than its curve.
  std::ofstream(folder.file("readings.toml")) << R"(format = 1
[[reading]]
tip = "part"
vacuum = "57.3 kPa"
[[reading]]
tip = "open"
vacuum = "14.5 kPa"
[[reading]]
cap = "pump"
plug-vacuum = "57.6 kPa"
[[reading]]
cap = "gauge tee"
vacuum = "57.4 kPa"
)";
  const std::string page = folder.file("page.html");
  const test::Ran ran =
      run({"report", "lines/jewel-setter-twist.toml", folder.file("readings.toml"), "--no-bands", "-o", page});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  // On the terminal the readings come first, and what follows is labelled.
  CHECK(ran.out.starts_with("It is the pump"));
  CHECK_THAT(ran.out, Contains("By the line file alone: Little is lost on the way"));
  const std::string text = text_of(page);
  CHECK_THAT(text, Contains("These numbers are by the line file alone, too"));
  CHECK_THAT(text, Contains("By the line file alone: Little is lost on the way"));
  CHECK_THAT(text, Contains("By the line file alone: The nozzle holds the part"));
  // A pump makes no step, and the readings are there.
  CHECK_THAT(text, Contains("Mend or replace the pump") && !Contains("the step behind it should be gone"));
  CHECK_THAT(text, !Contains("With your readings in a file") && !Contains("READINGS"));
}

TEST_CASE("no name can do harm on a page", "[cli][property]") {
  const Folder folder;
  std::ofstream(folder.file("line.toml")) << hostile;
  const test::Ran ran =
      run({"report", folder.file("line.toml"), "-o", folder.file("page.html"), "--svg", folder.file("pictures")});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  const std::string page = text_of(folder.file("page.html"));
  CHECK(tests::well_formed(page) == "");
  for (const char* bad : {"<script>alert", "<img", "\x1b", "\xE2\x80\xAE", "</script><!--"}) {
    CAPTURE(bad);
    CHECK_THAT(page, !Contains(bad));
  }
  std::size_t pictures = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder.file("pictures"))) {
    ++pictures;
    CAPTURE(entry.path().string());
    CHECK(tests::well_formed(text_of(entry.path().string())) == "");
  }
  CHECK(pictures >= 5);
  CHECK(ran.out.find('\x1b') == std::string::npos);
}

TEST_CASE("a page is written whole or not at all", "[cli][property]") {
  const Folder folder;
  const std::string page = folder.file("page.html");
  REQUIRE(run({"report", "lines/jewel-setter-twist.toml", "--no-bands", "-o", page}).code == 0);
  CHECK(folder.files() == 1);
  const std::string first = text_of(page);
  // The same line gives the same page, over the old one.
  REQUIRE(run({"report", "lines/jewel-setter-twist.toml", "--no-bands", "-o", page}).code == 0);
  CHECK(folder.files() == 1);
  CHECK(text_of(page) == first);
  const test::Ran ran =
      run({"report", "lines/jewel-setter-twist.toml", "--no-bands", "-o", folder.file("no/page.html")});
  CHECK(ran.code == 1);
  CHECK_THAT(ran.err, Contains("could not be written"));
  CHECK(folder.files() == 1);
}

TEST_CASE("a report in JSON holds what the commands say", "[cli][property]") {
  const std::string file = "lines/two-spindle-sorter.toml";
  const test::Ran ran = run({"report", file, "--json", "--no-bands"});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  const Json report = Json::parse(ran.out);
  for (const char* command : {"check", "strip", "hold", "cycle"}) {
    CAPTURE(command);
    const std::string bands = std::string(command) == "check" ? "--ascii" : "--no-bands";  // check knows none
    CHECK(report.at(command) == Json::parse(run({command, file, "--json", bands}).out));
  }
  CHECK(report.at("rank") == Json::parse(run({"rank", file, "--json", "--no-bands"}).out));
  for (const Json& steady : report.at("steady"))
    CHECK(steady == Json::parse(run({"steady", file, "--json", "--no-bands", "--tip", steady.at("tip")}).out));
}

TEST_CASE("a report that can't be is refused in a sentence", "[cli][property]") {
  const test::Ran both = run({"report", "lines/jewel-setter.toml", "--json", "-o", "page.html"});
  CHECK(both.code == 2);
  CHECK_THAT(both.err, Contains("leave out -o and --svg"));
  const test::Ran screen = run({"report", "lines/jewel-setter.toml"}, test::Output::terminal);
  CHECK(screen.code == 2);
  CHECK_THAT(screen.err + screen.out, Contains("-o page.html"));
  CHECK(run({"report", "lines/none.toml", "-o", "page.html"}).code == 2);
}

TEST_CASE("a page is not written over what it is made from", "[cli][property]") {
  const Folder folder;
  const std::string line = folder.file("line.toml"), log = folder.file("log.csv");
  std::filesystem::copy_file(AIRTALLY_SOURCE_DIR "/lines/jewel-setter.toml", line);
  std::ofstream(log) << "time_s,vacuum_kPa\n0,0\n0.1,10\n0.2,20\n0.3,30\n";
  std::filesystem::create_symlink("line.toml", folder.file("page.html"));
  for (const std::string& page : {line, log, folder.file("page.html")}) {
    const std::string before = text_of(page);
    const auto result = run({"report", line, "--log", log, "-o", page});
    CHECK(result.code == 2);
    CHECK_THAT(result.err, Contains("over what it is made from"));
    CHECK(text_of(page) == before);
  }
}

TEST_CASE("a page of a changed line says so, and its commands ask about the same line", "[cli][property]") {
  const std::vector<std::string> changed{"lines/jewel-setter.toml", "--no-bands", "--set", "part.mass=2 g"};
  const auto with = [&](std::vector<std::string> words) {
    words.insert(words.begin() + 1, changed.begin(), changed.end());
    return words;
  };
  const test::Ran page = run(with({"report"}));
  INFO(page.err);
  REQUIRE(page.code == 0);
  CHECK_THAT(page.out,
             Contains("worked out from lines/jewel-setter.toml. Set otherwise than in the file: part.mass=2 g."));
  const std::string typed = "lines/jewel-setter.toml --set &#39;part.mass=2 g&#39; ";
  CHECK_THAT(page.out, Contains("<code>airtally strip " + typed + "--sheet</code>") &&
                           Contains("<code>airtally report " + typed + "READINGS -o page.html</code>") &&
                           Contains("<code>airtally hold " + typed + "--set "));
  CHECK(Json::parse(run(with({"report", "--json"})).out).at("set") == Json{"part.mass=2 g"});
  const std::string on_terminal = "lines/jewel-setter.toml --set 'part.mass=2 g'";
  for (const auto& [command, next] : {std::pair("steady", "rank"), {"hold", "rank"}, {"rank", "strip"}}) {
    CAPTURE(command);
    CHECK_THAT(run(with({command})).out, Contains("    airtally " + std::string(next) + " " + on_terminal));
  }
  // Of this line no step shows; of the other one does, and then the sheet is next.
  CHECK_THAT(run({"strip", "lines/jewel-setter.toml", "--no-bands", "--set", "part.mass=2 g"}).out,
             Contains("    airtally strip lines/jewel-setter.toml --set 'part.mass=2 g' --sheet"));
  // As the file has it, nothing is said.
  const test::Ran plain = run({"report", "lines/jewel-setter.toml", "--no-bands"});
  CHECK_THAT(plain.out, !Contains("Set otherwise") && Contains("<code>airtally strip lines/jewel-setter.toml --sheet"));
  CHECK_FALSE(Json::parse(run({"report", "lines/jewel-setter.toml", "--no-bands", "--json"}).out).contains("set"));
}

// As rank does: with the end blocked no restriction shows.
TEST_CASE("a page sends a restriction to a test that shows one", "[cli][property]") {
  const std::string restricted = "lines/ejector-head.toml";
  CHECK_THAT(run({"rank", restricted, "--no-bands"}).out, Contains("    airtally hunt --bench " + restricted));
  CHECK_THAT(run({"report", restricted, "--no-bands"}).out,
             Contains("<code>airtally hunt --bench " + restricted + "</code>") && !Contains("--sheet"));
}

TEST_CASE("readings that are another line's are said to be so on the page and in JSON", "[cli][property]") {
  const Folder folder;
  std::filesystem::copy_file(AIRTALLY_SOURCE_DIR "/lines/jewel-setter.toml", folder.file("copy.toml"));
  const std::vector<std::string> words{
      "report", folder.file("copy.toml"), "lines/readings/jewel-setter.toml", "--no-bands",
      "--from", "lines/catalogue"};
  const std::string sentence =
      "jewel-setter.toml; they are taken as if " + folder.file("copy.toml") + " had given them.";
  const test::Ran page = run(words);
  INFO(page.err);
  REQUIRE(page.code == 0);
  CHECK_THAT(page.err, Contains("has readings of"));
  CHECK_THAT(page.out, Contains(sentence));
  std::vector<std::string> json = words;
  json.push_back("--json");
  CHECK_THAT(Json::parse(run(json).out).at("hunt").at("remarks").at(0).get<std::string>(), Contains(sentence));
}

TEST_CASE("on the page of a line whose valve is shut the numbers agree with the words", "[cli][property]") {
  const test::Ran ran = run({"report", "lines/jewel-setter.toml", "--set", "valve.state=closed"});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  const auto fact = [&](const std::string& name) {
    const std::size_t at = ran.out.find("<dt>" + name + "</dt>");
    if (at == std::string::npos) return std::string();
    const std::size_t begin = ran.out.find('>', ran.out.find("<dd", at)) + 1;
    return ran.out.substr(begin, ran.out.find('<', begin) - begin);
  };
  const std::string lost = fact("lost on the way");
  CHECK(lost != "0.0 kPa");
  CHECK_THAT(ran.out, Contains("has none of the " + lost + " that the pump pulls"));
  CHECK(fact("settles in") == "too little vacuum");
  CHECK(fact("may lift at").empty());
  CHECK_THAT(ran.out, Contains("The pick opens and closes its valves by its own times"));
  CHECK_THAT(ran.out,
             Contains("<li>Open the valve, on the machine and in the file") &&
                 Contains("<code>airtally report lines/jewel-setter.toml --set valve.state=open -o page.html</code>"));
  CHECK_THAT(ran.out, !Contains("--set valve.state=closed") && !Contains("--sheet"));
}

TEST_CASE("what sends a hand to the head says what lets go", "[cli][property]") {
  const test::Ran ran = run({"joint", "lines/jewel-setter.toml", "--no-bands"});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  CHECK_THAT(ran.out, Contains("Before you reach in: ") && Contains("Vacuum lets go when the power fails: "));
}

TEST_CASE("where no way of turning does, its table says what each lacks", "[cli][property]") {
  const test::Ran ran = run({"report", "lines/jewel-setter.toml", "--no-bands", "--set", "part.mass=50 g"});
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  const std::size_t at = ran.out.find("<section id=\"turning\"");
  REQUIRE(at != std::string::npos);
  const std::string section = ran.out.substr(at, ran.out.find("</section>", at) - at);
  CHECK_THAT(section, Contains("the table says what each one lacks") && Contains("<table") &&
                          Contains("twisted tube") && Contains("no: "));
}

TEST_CASE("the sensor's picture is of what it reads", "[cli][property]") {
  const test::Ran ran = run({"report", "lines/jewel-setter.toml", "--no-bands"});
  CHECK_THAT(ran.out, Contains("vacuum that the sensor reads") && !Contains("vacuum at the sensor"));
}
