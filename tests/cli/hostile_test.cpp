// Names and values from a stranger's file: shown, and harmless, on a terminal, in JSON and in CSV.
#include <array>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/run.hpp"

using namespace airtally;
using Catch::Contains;
using nlohmann::json;
using test::run;

namespace {

/// Escape, C1 controls, the marks that turn the direction of writing, signs of no width: as UTF-8.
const std::array<std::string, 12> commanding{"\x1b",         "\x07",         "\x7f",         "\xc2\x9b",
                                             "\xd8\x9c",     "\xe2\x80\x8b", "\xe2\x80\x8f", "\xe2\x80\xae",
                                             "\xe2\x80\xa8", "\xe2\x81\xa6", "\xe2\x81\xa0", "\xef\xbb\xbf"};

/// A name of an element may not hold C0 controls, everything else it may.
const std::string name = "<script>alert(1)</script>\xe2\x80\xae'\xc2\x9b\xe2\x80\x8b&\\\"";

class Hostile {
 public:
  explicit Hostile(const std::string& pump = "pump") {
    std::string pattern = (std::filesystem::temp_directory_path() / "airtally-hostile-XXXXXX").string();
    folder_ = mkdtemp(pattern.data());
    std::ofstream(file()) << "format = 1\ntitle = \"t\\u001b[2J\\u202E<b>\\u009B\"\n[[element]]\nname = \"" + pump +
                                 "\"\nkind = \"pump\"\ncurve = [[\"0 kPa\", \"8 L/min\"], [\"71 kPa\", \"0 L/min\"]]\n"
                                 "[[element]]\nname = '''" +
                                 name +
                                 "'''\nkind = \"tube\"\nbore = \"4 mm\"\nlength = \"0.8 m\"\n[[element]]\nname = "
                                 "\"nozzle\"\nkind = \"nozzle\"\nbore = \"1 mm\"\nlength = \"6 mm\"\n";
  }
  ~Hostile() { std::filesystem::remove_all(folder_); }
  Hostile(const Hostile&) = delete;
  Hostile& operator=(const Hostile&) = delete;
  std::string file() const { return (folder_ / "line.toml").string(); }
  std::filesystem::path folder_;
};

void harmless(const std::string& text) {
  for (const std::string& sign : commanding) CHECK(text.find(sign) == std::string::npos);
}

}  // namespace

TEST_CASE("names that command are shown and do nothing", "[cli][property]") {
  const Hostile line;
  for (const char* command : {"check", "steady", "rise", "rank", "strip"}) {
    CAPTURE(command);
    const test::Ran text = run({command, line.file()});
    CHECK(text.code == 0);
    CHECK_THAT(text.out, Contains("t?[2J?<b>?"));
    harmless(text.out);
    const test::Ran machine = run({command, line.file(), "--json"});
    CHECK(machine.code == 0);
    harmless(machine.out);
    CHECK_THAT(machine.out, Contains("\\u202e") && Contains("\\u001b") && Contains("\\u009b"));
    const json answer = json::parse(machine.out);
    CHECK(answer["line"] == "t\x1b[2J\xe2\x80\xae<b>\xc2\x9b");  // the same for a program
  }
  const json steady = json::parse(run({"steady", line.file(), "--json"}).out);
  CHECK(steady["elements"][1]["name"] == name);
}

TEST_CASE("names that command do nothing on a page or in a picture", "[cli][property]") {
  const Hostile line;
  const std::string pictures = (line.folder_ / "pictures").string(), page = (line.folder_ / "page.html").string();
  REQUIRE(run({"report", line.file(), "-o", page, "--svg", pictures, "--no-bands"}).code == 0);
  const auto text_of = [](const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return std::string((std::istreambuf_iterator<char>(in)), {});
  };
  const std::string html = text_of(page);
  harmless(html);
  CHECK_THAT(html, Contains("Content-Security-Policy") && Contains("default-src &#39;none&#39;"));
  CHECK_THAT(html, Contains("&lt;script&gt;alert(1)") && !Contains("<script>alert(1)"));
  // In the pictures' data, which lies in script elements, nothing of the name may end the element or begin a tag.
  for (std::size_t at = html.find("alert(1)"); at != std::string::npos; at = html.find("alert(1)", at + 1)) {
    CAPTURE(html.substr(at - 40, 80));
    CHECK(html.substr(at - 1, 1) != ">");
    CHECK(html.substr(at + 8, 2) != "</");
  }
  int count = 0;
  for (const auto& file : std::filesystem::directory_iterator(pictures)) {
    const std::string svg = text_of(file.path());
    CAPTURE(file.path().string());
    harmless(svg);
    CHECK_THAT(svg, Contains("<svg") && !Contains("<script"));
    ++count;
  }
  CHECK(count >= 4);
}

TEST_CASE("complaints about names that command do nothing either", "[cli][property]") {
  const Hostile line;
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"steady", line.file(), "--set", name + ".bore=4 kPa"},
        {"steady", line.file(), "--tip", name + "=open"},
        {"rise", line.file(), "--at", "\x1b[2J"},
        {"st\x1b[2J", line.file()},
        {"steady", "\x1b[2J\xe2\x80\xae.toml"},
        {"steady", line.file(), "--\x1b[2J"}}) {
    const test::Ran ran = run(words);
    CHECK(ran.code == 2);
    CHECK(!ran.err.empty());
    harmless(ran.err);
  }
}

TEST_CASE("a cell that begins like a formula is text", "[cli][property]") {
  for (const std::string formula : {"+cmd|' /C calc'!A0", "+SUM(1)", "-2+3", "@SUM(1)"}) {
    CAPTURE(formula);
    const Hostile line(formula);
    const test::Ran ran = run({"steady", line.file(), "--csv", "--sweep", formula + ".speed=1,2"});
    CHECK(ran.code == 0);
    CHECK(ran.out.rfind(formula, 0) == std::string::npos);
    CHECK((ran.out.rfind("'" + formula, 0) == 0 || ran.out.rfind("\"'" + formula, 0) == 0));
  }
  // One that begins with "=" can't be named before a value; in a heading it stands behind other words.
  const Hostile equal("=SUM(1)");
  CHECK_THAT(run({"steady", equal.file(), "--csv", "--sweep", "nozzle.bore=0.5 mm,0.6 mm"}).out,
             Contains(",vacuum_pa =SUM(1),") && !Contains(",=") && !Contains("\n="));
  const Hostile plain;
  const test::Ran ran = run({"steady", plain.file(), "--csv", "--sweep", "nozzle.bore=0.5 mm,0.6 mm"});
  CHECK_THAT(ran.out, Contains("\n0.5 mm,") && Contains("\n0.6 mm,"));
}

TEST_CASE("a file whose own name is no text", "[cli][property]") {
  const Hostile line;
  const std::filesystem::path odd = line.folder_ / "D\xfcse.toml";
  std::ifstream in(line.file());
  std::string text((std::istreambuf_iterator<char>(in)), {});
  text.erase(text.find("title"), text.find("[[") - text.find("title"));
  std::ofstream(odd) << text;
  for (const char* command : {"check", "steady", "rank"}) {
    const test::Ran plain = run({command, odd.string()}), machine = run({command, odd.string(), "--json"});
    CHECK(plain.code == 0);
    CHECK(machine.code == 0);
    CHECK_THAT(json::parse(machine.out)["line"].get<std::string>(), Contains("D\xef\xbf\xbdse.toml"));
  }
}
