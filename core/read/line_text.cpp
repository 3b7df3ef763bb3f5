#include "read/line_text.hpp"

#include "read/text_file_private.hpp"

namespace airtally::read {

LineText line_text(const std::filesystem::path& file) { return {text_of(file), file.string()}; }

std::vector<std::filesystem::path> catalogues_of(const LineText& line,
                                                 const std::vector<std::filesystem::path>& further) {
  std::vector<std::filesystem::path> folders{std::filesystem::path(line.name).parent_path() / "catalogue"};
  folders.insert(folders.end(), further.begin(), further.end());
  return folders;
}

line::Line read_line(const LineText& file, const std::vector<std::filesystem::path>& catalogues,
                     const std::vector<Change>& changes) {
  return read_line_text(file.text, file.name, catalogues_of(file, catalogues), changes);
}

}  // namespace airtally::read
