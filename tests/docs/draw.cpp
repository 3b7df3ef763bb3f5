// usage: airtally_pictures FOLDER - draws the pictures of docs/physics.md there.
#include <filesystem>
#include <fstream>
#include <iostream>

#include "docs/picture.hpp"

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: airtally_pictures FOLDER\n";
    return 2;
  }
  const std::filesystem::path folder(argv[1]);
  for (const auto& picture : airtally::pictures::all_pictures())
    std::ofstream(folder / (picture.name + ".svg"), std::ios::binary) << airtally::pictures::svg(picture);
  return 0;
}
