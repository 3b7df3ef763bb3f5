#pragma once
#include <vector>

#include "read/catalogue_private.hpp"
#include "read/complaints_private.hpp"
#include "read/line_file.hpp"
#include "read/toml_private.hpp"

namespace airtally::read {

/// Writes the changes into a line file's table as a person would write them into the file, so that whatever is read
/// afterwards is checked, refused and taken alike. A key that an element has from the catalogue is copied to it first
/// where only a part of it changes.
void apply(const std::vector<Change>& changes, toml::table& file, Catalogue& catalogue, Complaints& complaints);

}  // namespace airtally::read
