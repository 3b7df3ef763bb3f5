#include "study/spare.hpp"

#include <atomic>
#include <catch2/catch.hpp>
#include <stdexcept>

#include "study/parallel.hpp"

using namespace airtally::study;

TEST_CASE("no thing is lent twice at a time, and none is made that is not needed", "[study][property]") {
  struct Thing {
    std::atomic<int> users{0};
    int used = 0;
  };
  Spare<Thing> spare;
  std::atomic<int> made{0}, shared{0}, uses{0};
  const auto make = [&] {
    ++made;
    return std::make_unique<Thing>();
  };
  parallel(2000, 4, [&](std::size_t) {
    spare.lend(make, [&](Thing& thing) {
      if (++thing.users > 1) ++shared;
      ++thing.used;
      ++uses;
      --thing.users;
    });
  });
  CHECK(shared == 0);
  CHECK(uses == 2000);
  CHECK(made >= 1);
  CHECK(made <= 4);
}

TEST_CASE("what a use threw out of is not lent again", "[study][property]") {
  Spare<int> spare;
  const auto make = [] { return std::make_unique<int>(0); };
  CHECK_THROWS_AS(spare.lend(make, [](int& i) { throw std::runtime_error(std::to_string(i = 7)); }),
                  std::runtime_error);
  spare.lend(make, [](int& i) { CHECK(i == 0); });
}
