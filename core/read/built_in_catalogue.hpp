#pragma once
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "line/element.hpp"

/// The catalogue of generic elements that is part of the program: the files of lines/catalogue, as they stood when the
/// library was built. A line file may `use` its entries wherever it stands. Values are common practice, without a
/// source.
namespace airtally::read {

/// One file of the catalogue.
struct CatalogueFile {
  std::string_view name;  ///< "pumps.toml"
  std::string_view text;  ///< as it stands in the repository; lives as long as the program
};
/// All of them, at least one.
std::span<const CatalogueFile> built_in_files();

/// One entry, as it is written.
struct CatalogueEntry {
  std::string name;                    ///< by which a line file names it
  line::Kind kind = line::Kind::tube;  ///< what its element is
  /// Key and value in TOML, in the order written; without name and kind.
  std::vector<std::pair<std::string, std::string>> keys;
};

/// All entries, in the order of the files and of the entries in them.
std::vector<CatalogueEntry> built_in_catalogue();

}  // namespace airtally::read
