#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "read/line_file.hpp"

namespace airtally::read {

/// A line file that was read from the disk, for all that is to be made of it: a pipe gives its text no second time, and
/// a file that is saved meanwhile would give another.
struct LineText {
  std::string text;  ///< all of it
  std::string name;  ///< the path as it was given; stands for the file in complaints
};

/// Reads it. Throws BadInput when there is no such file, when it can't be read or is too large.
LineText line_text(const std::filesystem::path& file);

/// The line in it; arguments and complaints as read_line() of a file.
line::Line read_line(const LineText& file, const std::vector<std::filesystem::path>& catalogues = {},
                     const std::vector<Change>& changes = {});

/// Where the catalogue of such a file is looked for: in the folder "catalogue" beside it, then in `further`, in order.
std::vector<std::filesystem::path> catalogues_of(const LineText& line,
                                                 const std::vector<std::filesystem::path>& further);

}  // namespace airtally::read
