#include "whose_readings.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <system_error>

#include "errors.hpp"
#include "output.hpp"
#include "read/named_file.hpp"
#include "report/width.hpp"
#include "toml_text.hpp"

namespace airtally::cli {
namespace {

namespace fs = std::filesystem;

bool same_file(const fs::path& a, const fs::path& b) {
  std::error_code error;
  return fs::equivalent(a, b, error) || a.lexically_normal() == b.lexically_normal();
}

fs::path named(const line::Notes& notes) { return read::named_file(notes.file, notes.line, notes.line_at, "line"); }

}  // namespace

std::string line_named_by(const std::vector<line::Notes>& all) {
  fs::path line;
  std::string first;
  for (const line::Notes& notes : all) {
    if (notes.line.empty()) continue;
    const fs::path its = named(notes);
    if (!line.empty() && !same_file(line, its))
      throw BadInput(notes.line_at, fmt::format("these readings are of {}, those in {} of {}; one hunt is of one line.",
                                                its.string(), first, line.string()));
    if (line.empty()) {
      line = its;
      first = notes.file;
    }
  }
  if (line.empty())
    throw BadInput(Position{all.front().file, 0, 0},
                   "doesn't say of which line it is; add line = \"FILE\", the line file beside it.");
  return line.string();
}

std::optional<std::string> tell_of_another_line(const line::Notes& notes, const std::string& line_file) {
  if (notes.line.empty()) return std::nullopt;
  try {
    const fs::path its = named(notes);
    std::error_code error;
    if (!fs::exists(its, error) || same_file(its, line_file)) return std::nullopt;
    const std::string sentence = fmt::format("{} has readings of {}; they are taken as if {} had given them.",
                                             notes.file, its.string(), line_file);
    complain(report::paragraph("Note: " + sentence));
    return sentence;
  } catch (const BadInput&) {
    // A name that leads nowhere says nothing of another line.
    return std::nullopt;
  }
}

void refuse_another_line(const line::Notes& notes, const std::string& line_file) {
  if (notes.line.empty())
    throw BadInput(
        Position{notes.file, 0, 0},
        fmt::format("doesn't say of which line it is, so no reading is added to it; add line = {}, or choose "
                    "another place with --save.",
                    toml_text(read::name_for(notes.file, line_file))));
  const fs::path its = named(notes);
  if (!same_file(its, line_file))
    throw BadInput(notes.line_at, fmt::format("has readings of {}, so none of {} is added to it; choose another place "
                                              "with --save.",
                                              its.string(), line_file));
}

}  // namespace airtally::cli
