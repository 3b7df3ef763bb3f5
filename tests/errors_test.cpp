#include "errors.hpp"

#include <catch2/catch.hpp>

using airtally::BadInput;

TEST_CASE("bad input reports every complaint in order, each with its place", "[errors]") {
  const BadInput error({{{"line.toml", 3, 8}, "first."}, {{"line.toml", 9, 1}, "second."}});
  CHECK(std::string(error.what()) == "line.toml:3:8: first.\nline.toml:9:1: second.");
  CHECK(error.complaints().size() == 2);
}

TEST_CASE("a complaint about a whole file names the file alone", "[errors]") {
  CHECK(std::string(BadInput({"missing.toml", 0, 0}, "can't be opened.").what()) == "missing.toml: can't be opened.");
  CHECK(std::string(BadInput(airtally::Position{}, "nothing given.").what()) == "nothing given.");
}
