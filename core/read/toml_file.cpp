#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <system_error>

#include "read/toml_file_private.hpp"

namespace airtally::read {
namespace {

// Larger than any line a person writes; keeps a mistaken path to a big file from filling the memory.
constexpr std::uintmax_t largest_file = 4'000'000;

std::string_view line_of(std::string_view text, int number) {
  for (int i = 1; i < number && !text.empty(); ++i) {
    const auto end = text.find('\n');
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
  }
  return text.substr(0, text.find('\n'));
}

// "bore = 4 mm": the commonest mistake, a value with its unit outside quotes.
bool looks_unquoted(std::string_view line) {
  const auto equals = line.find('=');
  if (equals == std::string_view::npos) return false;
  const auto start = line.find_first_not_of(" \t", equals + 1);
  if (start == std::string_view::npos) return false;
  const auto word = line.substr(start, line.find('#', start) - start);
  const bool number = (word.front() >= '0' && word.front() <= '9') || word.front() == '-' || word.front() == '+';
  return number && word.find_first_not_of("0123456789.+-eE_ \t\r,") != std::string_view::npos &&
         word.find('"') == std::string_view::npos;
}

}  // namespace

std::string text_of(const std::filesystem::path& file) {
  const auto refuse = [&file](const char* sentence) -> std::string {
    throw BadInput(Position{file.string(), 0, 0}, sentence);
  };
  std::error_code error;
  const auto status = std::filesystem::status(file, error);
  if (!std::filesystem::exists(status)) return refuse("there is no such file.");
  if (std::filesystem::is_directory(status)) return refuse("is a folder; name a file in it.");
  std::ifstream stream(file, std::ios::binary);
  if (!stream) return refuse("can't be opened for reading.");
  std::string text;
  std::string chunk(1 << 16, '\0');
  while (stream.read(chunk.data(), static_cast<std::streamsize>(chunk.size())) || stream.gcount() > 0) {
    text.append(chunk, 0, static_cast<std::size_t>(stream.gcount()));
    if (text.size() > largest_file) return refuse("is larger than 4 MB, so it can't be a file for airtally.");
  }
  if (stream.bad()) return refuse("can't be read to its end.");
  return text;
}

Position place(const toml::source_region& region) {
  // A change from the command line is its own place and has no lines.
  if (region.path && (region.path->starts_with("--set ") || region.path->starts_with("--sweep ")))
    return {*region.path, 0, 0};
  return {region.path ? *region.path : std::string(), static_cast<int>(region.begin.line),
          static_cast<int>(region.begin.column)};
}

toml::table parse_toml(std::string_view text, const std::string& name) {
  try {
    return toml::parse(text, std::string_view(name));
  } catch (const toml::parse_error& error) {
    Position at = place(error.source());
    if (at.file.empty()) at.file = name;
    const char* const hint = looks_unquoted(line_of(text, at.line))
                                 ? " A value with its unit stands between quotes, as in bore = \"4 mm\"."
                                 : "";
    std::string what(error.description());
    if (what.ends_with('.')) what.pop_back();
    throw BadInput(at, fmt::format("this isn't TOML, the format of the file: {}.{}", what, hint));
  }
}

}  // namespace airtally::read
