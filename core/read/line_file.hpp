#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "line/line.hpp"

/// A line file (TOML, docs/line-format.md) to a Line. Each key and value is checked by itself here; how the elements
/// hang together is checked when the line is built.
namespace airtally::read {

/// Reads a line file. The catalogue of `use` is looked for in the folder "catalogue" beside the file, then in
/// `catalogues`, in order. Throws BadInput with everything that is wrong, in the order of the file.
line::Line read_line(const std::filesystem::path& file, const std::vector<std::filesystem::path>& catalogues = {});

/// The same from a text; `name` stands for the file in complaints. The catalogue is looked for in `catalogues` only.
line::Line read_line_text(std::string_view text, const std::string& name,
                          const std::vector<std::filesystem::path>& catalogues = {});

}  // namespace airtally::read
