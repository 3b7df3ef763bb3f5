#include "read/stray.hpp"

#include <catch2/catch.hpp>
#include <string>

using airtally::read::stray_in;

TEST_CASE("texts beyond ASCII are read wherever TOML allows a text", "[read]") {
  for (const char* text :
       {"name = \"Ö\"", "name = 'Ö'", "\"Ö\" = 1", "a.\"Ö\" = 1", "[\"Ö\"]", "[a.\"Ö\"]", "[[a . 'Ö']]",
        "a = [\"Ö\", 1, ['Ö']]", "a = [1,\n\"Ö\",\n]", "a = {b = \"Ö\", \"Ö\" = 'Ö'}",
        "a = [{b = 'Ö'}, {c = {}, 'Ö' = [2, \"Ö\"], d = \"Ö\"}]", "a = \"\"\"Ö\nÖ\"\"\"\"\nb = 'Ö'",
        "a = 1 # Ö\nb = \"Ö\"", "a = 0.5\n\"Ö\" = 2", "a = {}\nb = 'Ö'", "a = []\n'Ö' = 1", "a = \"\\\"Ö\"",
        "\xEF\xBB\xBF"
        "a = 'Ö'"}) {
    CAPTURE(text);
    CHECK(stray_in(text).at == std::string::npos);
  }
}

TEST_CASE("elsewhere a character beyond ASCII is stray, and within a bare value quotes hide none", "[read]") {
  for (const char* text : {"a = Ö", "Ö = 1", "[Ö]", "a = 1 Ö", "a = 09+[em[\"Ö\"[", "a = 1.\"Ö\"", "a = 1=\"Ö\"",
                           "a = 1{\"Ö\"", "a = \"b\"\"Ö\"", "a = [1[\"Ö\"]]", "a = {b = 1.'Ö'}", "a = b'Ö'"}) {
    CAPTURE(text);
    const airtally::read::Stray stray = stray_in(text);
    CHECK(stray.at == std::string(text).find("Ö"));
    CHECK_FALSE(stray.in_text);
  }
  CHECK(stray_in("a = \"\"\"b\\\n Ö\"\"\"").in_text);
  CHECK(stray_in("a = \"\"\"b\\\\\\Ö").in_text);
  CHECK(stray_in("a = \"b\\Ö\"").in_text);
  CHECK(stray_in("a = \"b\\\\Ö\"").at == std::string::npos);
  CHECK(stray_in("a = \xFF").at == std::string::npos);  // the parser says that this is not UTF-8
}
