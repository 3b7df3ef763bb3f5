#include "lines/lines.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <regex>

#include "study/cycle.hpp"

using namespace airtally;
namespace fs = std::filesystem;

namespace {

std::vector<fs::path> files_in(const fs::path& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

std::string text_of(const fs::path& file) {
  std::ifstream in(file);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// What an entry of that kind lacks to be an element of a line.
std::string rest_of(const std::string& entry) {
  const std::string head = "[[element]]\nname = \"x\"\nuse = \"" + entry + "\"\n";
  return entry.find(" tube ") != std::string::npos ? head + "length = \"1 m\"\n" : head;
}

}  // namespace

TEST_CASE("every scenario says that it is invented, reads, and comes to rest in every tip state", "[lines][property]") {
  const auto files = files_in(AIRTALLY_SOURCE_DIR "/lines");
  REQUIRE(files.size() >= 4);
  for (const fs::path& file : files) {
    CAPTURE(file);
    CHECK(text_of(file).find("# Invented scenario") == 0);
    const line::Line line = read::read_line(file);
    REQUIRE(line.part);
    REQUIRE(line.move);
    for (const auto state : {solve::TipState::open, solve::TipState::part, solve::TipState::blocked}) {
      const solve::SteadyAnswer answer = solve::steady(line, solve::all_tips(line, state));
      CHECK(answer.report.worst_balance <= 1e-9);
      for (const solve::Tip& tip : answer.tips) {
        CHECK(tip.tip_vacuum() > 0.0);
        CHECK(tip.tip_vacuum() < answer.ambient);
      }
    }
  }
}

TEST_CASE("every entry of the catalogue can be used, and says that it has no source", "[lines][property]") {
  const fs::path folder = fs::path(AIRTALLY_SOURCE_DIR "/lines") / "catalogue";
  const std::regex name("\\nname = \"([^\"]+)\"");
  std::size_t entries = 0;
  for (const fs::path& file : files_in(folder)) {
    CAPTURE(file);
    const std::string text = text_of(file);
    CHECK(text.find("Common practice, no source") != std::string::npos);
    for (std::sregex_iterator it(text.begin(), text.end(), name), end; it != end; ++it) {
      CAPTURE((*it)[1].str());
      const std::string line = "format = 1\n" + rest_of((*it)[1].str());
      CHECK(read::read_line_text(line, "one.toml", {folder}).elements.size() == 1);
      ++entries;
    }
  }
  CHECK(entries >= 50);
}

TEST_CASE("the twisted line is the jewel setter but for the joint and its tube", "[lines][property]") {
  const line::Line joint = test::scenario("jewel-setter"), twist = test::scenario("jewel-setter-twist");
  REQUIRE(joint.elements.size() == twist.elements.size());
  for (std::size_t i = 0; i < joint.elements.size(); ++i) {
    const line::Element &a = joint.elements[i], &b = twist.elements[i];
    if (a.name == "rotary joint") {
      CHECK(b.name == "twist tube");
      continue;
    }
    CHECK(a.name == b.name);
    CHECK(a.kind == b.kind);
    CHECK(a.leaks.size() == b.leaks.size());
    CHECK(a.volume.value == b.volume.value);
  }
  CHECK(joint.part->mass.value == twist.part->mass.value);
  CHECK(joint.move->travel.value == twist.move->travel.value);
}

TEST_CASE("the wet seed arm's bowl costs its picks nothing before the valve, and much behind it", "[lines][property]") {
  line::Line line = test::scenario("wet-seed-arm");
  study::CycleOptions options;
  options.limits = false;
  const auto to_spare = [&] { return study::cycle(line, options).heads.front().margin_at_lift; };
  const double as_it_stands = to_spare();
  const line::Element trap = test::element(line, "trap");
  const auto at = [&](const char* name) {
    return line.elements.begin() + static_cast<std::ptrdiff_t>(line::find(line, name).value());
  };
  test::element(line, "trap").volume = 1e-9;
  CHECK(to_spare() < as_it_stands);  // it keeps a vacuum in store
  line.elements.erase(at("trap"));
  line.elements.insert(at("valve") + 1, trap);
  CHECK(to_spare() < 0.6 * as_it_stands);
}
