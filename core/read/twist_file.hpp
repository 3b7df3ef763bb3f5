#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "line/twist.hpp"
#include "read/line_file.hpp"
#include "read/line_text.hpp"

/// The table [twist] of a line file, which only the question that it belongs to reads.
namespace airtally::read {

/// Nothing when the file has no [twist]. `friction` is that of the rotary elements that `at` names which rubs most, or
/// of the line's first one, from the element or its entry of the catalogue. A list of placements in a file of its own
/// is looked for beside the line file. Arguments as read_line(). Throws BadInput.
std::optional<line::Twist> read_twist(const std::filesystem::path& file,
                                      const std::vector<std::filesystem::path>& catalogues = {},
                                      const std::vector<Change>& changes = {});
/// The same of a file that is read already.
std::optional<line::Twist> read_twist(const LineText& file, const std::vector<std::filesystem::path>& catalogues = {},
                                      const std::vector<Change>& changes = {});
/// The same from a text; `name` stands for the file.
std::optional<line::Twist> read_twist_text(std::string_view text, const std::string& name,
                                           const std::vector<std::filesystem::path>& catalogues = {},
                                           const std::vector<Change>& changes = {});

}  // namespace airtally::read
