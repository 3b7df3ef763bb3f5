#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <string>

#include "read/line_file.hpp"

using namespace airtally;
namespace fs = std::filesystem;

namespace {

// A folder of its own for each test case, gone with it.
class Folder {
 public:
  Folder()
      : path_(fs::temp_directory_path() / ("airtally_" + std::to_string(::getpid()) + "_" + std::to_string(next()))) {
    fs::create_directories(path_);
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  const fs::path& path() const { return path_; }
  fs::path write(const std::string& name, const std::string& text) const {
    const fs::path file = path_ / name;
    fs::create_directories(file.parent_path());
    std::ofstream(file) << text;
    return file;
  }

 private:
  static int next() {
    static int count = 0;
    return ++count;
  }
  fs::path path_;
};

const char* const tubes = R"toml(format = 1
title = "Tubes"
[[entry]]
name = "tube 4x2.5"
kind = "tube"
bore = "2.5 mm"
wall = "0.75 mm"
leak = { hole = "0.02 mm" }
[[entry]]
name = "mesh filter"
kind = "filter"
rated = { flow = "6 L/min", drop = "2 kPa" }
)toml";

std::string catalogue_refusal(const fs::path& file, const std::vector<fs::path>& catalogues = {}) {
  try {
    read::read_line(file, catalogues);
  } catch (const BadInput& error) {
    std::string said = error.what();
    // The folder differs from run to run.
    const std::string folder = file.parent_path().string();
    for (auto at = said.find(folder); at != std::string::npos; at = said.find(folder))
      said.replace(at, folder.size(), "F");
    return said;
  }
  return "(accepted)";
}

std::string using_entry(const std::string& name, const std::string& keys = "length = \"1 m\"\n") {
  return "format = 1\n[[element]]\nname = \"hose\"\nuse = \"" + name + "\"\n" + keys;
}

}  // namespace

TEST_CASE("an element takes the values of a catalogue entry, its own winning", "[read]") {
  const Folder folder;
  folder.write("catalogue/tubes.toml", tubes);
  const fs::path file = folder.write("l.toml", using_entry("tube 4x2.5", "length = \"1 m\"\nwall = \"1 mm\"\n"));
  const line::Line l = read::read_line(file);
  REQUIRE(l.elements.size() == 1);
  const line::Element& hose = l.elements[0];
  CHECK(hose.name == "hose");
  CHECK(hose.kind == line::Kind::tube);
  CHECK(std::get<line::Bore>(hose.restriction).bore.value == 2.5e-3);
  CHECK(std::get<line::Bore>(hose.restriction).length.value == 1.0);
  CHECK(hose.wall->value == 1e-3);
  CHECK(hose.leaks.size() == 1);
  CHECK(l.file == file.string());
}

TEST_CASE("an own way of describing puts the entry's other way out of force", "[read]") {
  const Folder folder;
  folder.write("catalogue/tubes.toml", tubes);
  const fs::path file = folder.write("l.toml", using_entry("mesh filter", "conductance = \"0.5 dm3/(s bar)\"\n"));
  const line::Line l = read::read_line(file);
  CHECK(std::get<line::Iso>(l.elements[0].restriction).conductance.value == 0.5e-8);
}

TEST_CASE("catalogues are looked through in order, the one beside the file first", "[read]") {
  const Folder folder;
  const Folder other;
  folder.write("catalogue/a.toml", "format = 1\n[[entry]]\nname = \"t\"\nkind = \"tube\"\nbore = \"1 mm\"\n");
  other.write("a.toml",
              "format = 1\n[[entry]]\nname = \"t\"\nkind = \"tube\"\nbore = \"2 mm\"\n[[entry]]\nname = \"u\"\nkind = "
              "\"tube\"\nbore = \"3 mm\"\n");
  const auto bore = [&](const char* name) {
    const line::Line l = read::read_line(folder.write("l.toml", using_entry(name)), {other.path()});
    return std::get<line::Bore>(l.elements.at(0).restriction).bore.value;
  };
  CHECK(bore("t") == 1e-3);
  CHECK(bore("u") == 3e-3);
}

TEST_CASE("a name that no catalogue knows is refused with help", "[read][errors]") {
  const Folder folder;
  folder.write("catalogue/tubes.toml", tubes);
  CHECK(catalogue_refusal(folder.write("l.toml", using_entry("tube 4x25"))) ==
        "F/l.toml:4:7: element 'hose': use = \"tube 4x25\" is in no catalogue. Did you mean \"tube 4x2.5\"?");
  CHECK(catalogue_refusal(folder.write("l.toml", using_entry("bellows"))) ==
        "F/l.toml:4:7: element 'hose': use = \"bellows\" is in no catalogue. Looked in F/catalogue and the "
        "catalogue that comes with airtally.");
  CHECK(catalogue_refusal(folder.write("l.toml", using_entry("../secret.toml"))) ==
        "F/l.toml:4:7: element 'hose': use = \"../secret.toml\" looks like a path; 'use' takes the name of an entry of "
        "the "
        "catalogue.");
  CHECK(catalogue_refusal(folder.write("l.toml", using_entry("tube 4x2.5", "kind = \"nozzle\"\n"))) ==
        "F/l.toml:5:8: element 'hose': kind = \"nozzle\", but the catalogue's entry is a \"tube\"; use another entry "
        "or leave "
        "'kind' out.");
}

TEST_CASE("mistakes in a catalogue are told once, at their own place, after those of the line", "[read][errors]") {
  const Folder folder;
  folder.write("catalogue/bad.toml",
               "format = 1\n[[entry]]\nname = \"t\"\nkind = \"tube\"\nbore = 2\ncolour = \"red\"\n[[entry]]\nname = "
               "\"t\"\n[[entry]]\nkind = \"tee\"\n");
  const std::string twice =
      "format = 1\n[[element]]\nname = \"a\"\nuse = \"t\"\n[[element]]\nname = \"b\"\nuse = \"t\"\nlength "
      "= \"1 m\"\n";
  CHECK(
      catalogue_refusal(folder.write("l.toml", twice)) ==
      "F/l.toml:2:1: element 'a': needs 'length', such as length = \"4 mm\".\n"
      "F/catalogue/bad.toml:5:8: element 'a': bore = 2 is a bare number; say its unit between quotes, such as \"4 "
      "mm\".\n"
      "F/catalogue/bad.toml:6:1: element 'a': 'colour' is not a key of a tube. Allowed: name, kind, use, after, joins, "
      "bore, length, roughness, loss, leak, volume, gauge, effort, wall, modulus.\n"
      "F/catalogue/bad.toml:8:8: catalogue: there are two entries with the name \"t\".\n"
      "F/catalogue/bad.toml:9:1: catalogue: an entry needs a name.");
}

TEST_CASE("a file that can't be read is refused by its name", "[read][errors]") {
  const Folder folder;
  CHECK(catalogue_refusal(folder.path() / "none.toml") ==
        "F/none.toml: there is no such file; is the path right, and counted from the folder that you are in?");
  fs::create_directories(folder.path() / "sub");
  CHECK(catalogue_refusal(folder.path() / "sub") == "F/sub: is a folder; name a file in it.");
  CHECK(catalogue_refusal(folder.write("big.toml", std::string(4'000'001, '#'))) ==
        "F/big.toml: is larger than 4 MB, so it can't be a file for airtally; name another.");
}
