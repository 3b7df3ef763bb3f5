#include "report/width.hpp"

#include <catch2/catch.hpp>

using namespace airtally::report;

TEST_CASE("text is as wide as the terminal shows it", "[report][property]") {
  CHECK(width("hose") == 4);
  CHECK(width("Düse") == 4);
  CHECK(width("e\xcc\x81") == 1);  // e and a combining acute accent
  CHECK(width("真空") == 4);
  CHECK(width("\xff\xfe") == 2);  // not UTF-8: a column a byte
  CHECK(width("") == 0);
}

TEST_CASE("a long text loses its middle and keeps both ends", "[report][property]") {
  CHECK(cut("bank 1 nozzle 3", 20) == "bank 1 nozzle 3");
  CHECK(cut("left manifold bank 1 nozzle 3", 16) == "left mani…zzle 3");
  CHECK(cut("left manifold bank 1 nozzle 3", 16, "..") == "left mani..zle 3");
  for (std::size_t room = 1; room < 20; ++room) {
    CAPTURE(room);
    CHECK(width(cut("真空ポンプの長い名前", room)) <= room);
  }
}

TEST_CASE("a name can neither break a line nor command the terminal", "[report][property]") {
  CHECK(clean("a\nb\x1b[31mc\td") == "a?b?[31mc?d");
  CHECK(clean("c\xc2\x9b"
              "1m") == "c?1m");  // the one-letter form of escape and bracket
  CHECK(clean("x\xe2\x80\xae"
              "y") == "x?y");  // turns the direction of writing
  CHECK(clean("Düse \xff") == "Düse ?");
}

TEST_CASE("paragraphs are folded at spaces", "[report][property]") {
  CHECK(wrap("one two three", 7) == std::vector<std::string>{"one two", "three"});
  CHECK(wrap("one two three", 7, 2) == std::vector<std::string>{"one two", "  three"});
  CHECK(wrap("abcdefghij kl", 4) == std::vector<std::string>{"abcd", "efgh", "ij", "kl"});
  CHECK(wrap("", 10) == std::vector<std::string>{""});
}
