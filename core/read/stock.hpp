#pragma once
#include <filesystem>
#include <vector>

#include "line/element.hpp"
#include "line/twist.hpp"

namespace airtally::read {

/// All entries of those kinds in catalogue files (read/line_file.hpp), as elements that are called as the entries are;
/// the .toml files of a folder in the order of their names. Entries of other kinds are not looked at. `from`: folders
/// and files, none: the catalogue that is part of the program; of two entries with one name the first counts.
/// `site_pressure` [Pa] bounds the vacuum of a rated leak. Throws BadInput with everything that is wrong.
std::vector<line::Element> read_stock(const std::vector<std::filesystem::path>& from,
                                      const std::vector<line::Kind>& kinds, double site_pressure);

/// The rotary joints among them, with what their seals rub. Arguments and errors as read_stock().
std::vector<line::Seal> read_seals(const std::vector<std::filesystem::path>& from, double site_pressure);

}  // namespace airtally::read
