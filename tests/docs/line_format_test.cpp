// docs/line-format.md names every key that the reader accepts and every range that it allows.
#include <catch2/catch.hpp>

#include "docs/page.hpp"
#include "line/element.hpp"
#include "read/refusal.hpp"

using namespace airtally;

TEST_CASE("the line format's page names every key that is read", "[docs][property]") {
  const std::string page = test::text_of(AIRTALLY_SOURCE_DIR "/docs/line-format.md");
  std::vector<std::string> texts{
      "format = 1\nzzzzzz = 1\n[[element]]\nname = \"t\"\nkind = \"tee\"\n",
      "format = 1\n[site]\nzzzzzz = 1\n",
      "format = 1\n[part]\nzzzzzz = 1\n",
      "format = 1\n[part]\nporosity = { zzzzzz = 1 }\n",
      "format = 1\n[move]\nzzzzzz = 1\n",
      "format = 1\n[cycle]\nzzzzzz = 1\n",
      "format = 1\n[[cycle.head]]\nzzzzzz = 1\n",
      "format = 1\n[move]\nsafety = { zzzzzz = 1 }\n",
  };
  for (const char* inside :
       {"zzzzzz = 1", "tube = { zzzzzz = 1 }", "amplifier = { kind = \"bare\", zzzzzz = 1 }",
        "amplifier = { kind = \"difference\", zzzzzz = 1 }", "amplifier = { kind = \"converter\", zzzzzz = 1 }",
        "adc = { zzzzzz = 1 }", "switch = { zzzzzz = 1 }"})
    texts.push_back(std::string("format = 1\n[sensor]\n") + inside + "\n");
  const std::string element = "format = 1\n[[element]]\nname = \"x\"\nkind = ";
  for (const std::string_view kind : line::kind_words())
    texts.push_back(element + "\"" + std::string(kind) + "\"\nzzzzzz = 1\n");
  for (const char* inside :
       {"leak = { hole = \"1 mm\", zzzzzz = 1 }", "leak = { clearance = \"1 um\", zzzzzz = 1 }",
        "leak = { rated = \"1 L/min\", zzzzzz = 1 }", "gauge = { zzzzzz = 1 }", "gauge = { tube = { zzzzzz = 1 } }"})
    texts.push_back(element + "\"tee\"\n" + inside + "\n");
  texts.push_back(element + "\"pump\"\nripple = { zzzzzz = 1 }\n");
  texts.push_back(element + "\"valve\"\nvent = { zzzzzz = 1, blow-off = { zzzzzz = 1 } }\n");
  texts.push_back(element + "\"filter\"\nrated = { zzzzzz = 1 }\n");
  for (const std::string& text : texts) {
    CAPTURE(text);
    const std::vector<std::string> keys = test::allowed_in(test::refusal(text));
    CHECK_FALSE(keys.empty());
    for (const std::string& key : keys) {
      CAPTURE(key);
      CHECK(test::names(page, key));
    }
  }
}

TEST_CASE("the line format's page names every range that is allowed", "[docs][property]") {
  const std::string page = test::text_of(AIRTALLY_SOURCE_DIR "/docs/line-format.md");
  std::size_t ranges = 0;
  for (const char* file :
       {"core/read/limits_private.hpp", "core/read/move_reader.cpp", "core/read/cycle_reader.cpp",
        "core/read/sensor_reader.cpp", "core/read/twist_file.cpp", "core/read/turn_limits_private.hpp"})
    for (const std::string& range : test::ranges_in(test::text_of(std::string(AIRTALLY_SOURCE_DIR "/") + file))) {
      CAPTURE(range);
      ++ranges;
      CHECK(page.find(range) != std::string::npos);
    }
  CHECK(ranges >= 60);
}
