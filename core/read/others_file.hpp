#pragma once
#include <filesystem>
#include <vector>

#include "line/line.hpp"
#include "read/line_file.hpp"
#include "read/line_text.hpp"

/// The tables [[other-part]] and [[other-nozzle]] of a line file: what the line may have to pick, and to pick with,
/// besides what it has. Only the question that they belong to reads them.
namespace airtally::read {

/// What a line may have instead of its own part and nozzles.
struct Others {
  std::vector<line::Part> parts;       ///< in file order; may be empty
  std::vector<line::Element> nozzles;  ///< in file order; may be empty
};

/// Arguments as read_line(); `site_pressure` [Pa, absolute] bounds the vacuum of a rated leak. Throws BadInput with all
/// that is wrong.
Others read_others(const std::filesystem::path& file, double site_pressure,
                   const std::vector<std::filesystem::path>& catalogues = {}, const std::vector<Change>& changes = {});
/// The same of a file that is read already.
Others read_others(const LineText& file, double site_pressure,
                   const std::vector<std::filesystem::path>& catalogues = {}, const std::vector<Change>& changes = {});
/// The same from a text; `name` stands for the file in complaints. The catalogue is looked for in `catalogues` only.
Others read_others_text(std::string_view text, const std::string& name, double site_pressure,
                        const std::vector<std::filesystem::path>& catalogues = {},
                        const std::vector<Change>& changes = {});

}  // namespace airtally::read
