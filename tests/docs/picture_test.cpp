// The pictures of docs/physics.md are those that the laws draw, and the page shows each.
#include "docs/picture.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>

using namespace airtally;

namespace {

std::string text_of(const std::string& file) {
  std::ifstream in(AIRTALLY_SOURCE_DIR "/docs/" + file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

TEST_CASE("every law's picture is what the law computes", "[docs][regression]") {
  const std::string page = text_of("physics.md");
  for (const pictures::Picture& picture : pictures::all_pictures()) {
    CAPTURE(picture.name, "cmake --build build --target pictures");
    CHECK(text_of("pictures/" + picture.name + ".svg") == pictures::svg(picture));
    CHECK(page.find("(pictures/" + picture.name + ".svg)") != std::string::npos);
    for (const pictures::Curve& curve : picture.curves) {
      CAPTURE(curve.label);
      for (const auto& [x, y] : curve.points) {
        CHECK(x >= picture.x.low - 1e-9);
        CHECK(x <= picture.x.high * (1.0 + 1e-9));
        CHECK(y >= picture.y.low - 1e-9);
        CHECK(y <= picture.y.high * (1.0 + 1e-9));
      }
    }
  }
}
