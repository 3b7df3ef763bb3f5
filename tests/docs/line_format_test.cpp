// docs/line-format.md names every key that the reader accepts and every range that it allows.
#include <catch2/catch.hpp>
#include <fstream>
#include <regex>
#include <sstream>

#include "line/element.hpp"
#include "read/refusal.hpp"

using namespace airtally;

namespace {

std::string text_of(const std::string& file) {
  std::ifstream in(std::string(AIRTALLY_SOURCE_DIR) + "/" + file);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

/// The keys that the reader says are allowed where `zzzzzz` is not.
std::vector<std::string> allowed_in(const std::string& complaint) {
  std::vector<std::string> keys;
  const std::regex list("'[^']*zzzzzz' is not a key of [^\n]*Allowed: ([^.\n]*)\\.");
  for (std::sregex_iterator it(complaint.begin(), complaint.end(), list), end; it != end; ++it) {
    std::stringstream words((*it)[1].str());
    for (std::string word; std::getline(words, word, ',');) keys.push_back(word.substr(word.find_first_not_of(' ')));
  }
  return keys;
}

}  // namespace

TEST_CASE("the line format's page names every key that is read", "[docs][property]") {
  const std::string page = text_of("docs/line-format.md");
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
    const std::vector<std::string> keys = allowed_in(test::refusal(text));
    CHECK_FALSE(keys.empty());
    for (const std::string& key : keys) {
      CAPTURE(key);
      const bool named =
          page.find("`" + key + "`") != std::string::npos || page.find("`[" + key + "]`") != std::string::npos ||
          page.find("`[[" + key + "]]`") != std::string::npos || page.find("." + key + "]]`") != std::string::npos ||
          page.find(key + " = ") != std::string::npos;
      CHECK(named);
    }
  }
}

TEST_CASE("the line format's page names every range that is allowed", "[docs][property]") {
  const std::string page = text_of("docs/line-format.md");
  const std::regex range("\"([^\"]* \\.\\. [^\"]*)\"\\};");
  std::size_t ranges = 0;
  for (const char* file : {"core/read/limits_private.hpp", "core/read/move_reader.cpp", "core/read/cycle_reader.cpp",
                           "core/read/sensor_reader.cpp", "core/read/twist_file.cpp"}) {
    const std::string code = text_of(file);
    for (std::sregex_iterator it(code.begin(), code.end(), range), end; it != end; ++it, ++ranges) {
      CAPTURE((*it)[1].str());
      CHECK(page.find((*it)[1].str()) != std::string::npos);
    }
  }
  CHECK(ranges >= 30);
}
