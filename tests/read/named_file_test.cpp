// Where a file of somebody's may lead the program, and where not.
#include "read/named_file.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

using namespace airtally;
namespace fs = std::filesystem;

namespace {

/// A folder of folders, gone with this object: ROOT/bench/readings/r.toml names others.
class Folders {
 public:
  Folders() {
    std::string pattern = (fs::temp_directory_path() / "airtally-named-XXXXXX").string();
    root = fs::canonical(mkdtemp(pattern.data()));
    fs::create_directories(root / "bench/readings/deep");
    for (const char* file : {"secret.toml", "bench/line.toml", "bench/readings/r.toml", "bench/readings/deep/d.toml"})
      std::ofstream(root / file) << "format = 1\n";
    fs::create_symlink(root / "secret.toml", root / "bench/readings/link.toml");
  }
  ~Folders() { fs::remove_all(root); }
  Folders(const Folders&) = delete;
  Folders& operator=(const Folders&) = delete;

  std::string named(const std::string& name) const {
    try {
      return fs::canonical(read::named_file(root / "bench/readings/r.toml", name, {"r.toml", 2, 8}, "line"))
          .lexically_relative(root)
          .string();
    } catch (const BadInput& error) {
      return error.what();
    }
  }
  fs::path root;
};

}  // namespace

TEST_CASE("a file is found beside the one that names it, above it and below it", "[read][property]") {
  const Folders folders;
  CHECK(folders.named("deep/d.toml") == "bench/readings/deep/d.toml");
  CHECK(folders.named("../line.toml") == "bench/line.toml");
  CHECK(folders.named("deep/../../line.toml") == "bench/line.toml");
  CHECK(folders.named((folders.root / "secret.toml").string()) == "secret.toml");  // at its word
}

TEST_CASE("a relative name leads nowhere else, by dots or by links", "[read][property]") {
  const Folders folders;
  const std::string refusal =
      " leads out of the folders that this file may name: its own and the one above it, the working folder, and what "
      "lies below them. Move the file there, or write its absolute path.";
  CHECK(folders.named("../../secret.toml") == "r.toml:2:8: line = \"../../secret.toml\"" + refusal);
  CHECK(folders.named("link.toml") == "r.toml:2:8: line = \"link.toml\"" + refusal);
  CHECK(folders.named("../../nowhere.toml") == "r.toml:2:8: line = \"../../nowhere.toml\"" + refusal);
  CHECK(
      folders.named("nowhere.toml") ==
      "r.toml:2:8: line = \"nowhere.toml\": there is no such file, neither beside this one nor in the working folder.");
}

TEST_CASE("what is written down is found again", "[read][property]") {
  const Folders folders;
  const fs::path from = folders.root / "bench/readings/r.toml";
  CHECK(read::name_for(from, folders.root / "bench/line.toml") == "../line.toml");
  CHECK(read::name_for(from, folders.root / "bench/readings/deep/d.toml") == "deep/d.toml");
  CHECK(read::name_for(from, folders.root / "secret.toml") == (folders.root / "secret.toml").string());
}
