#include "whole_file.hpp"

#include <fmt/format.h>

#include <fstream>
#include <system_error>

#include "errors.hpp"

namespace airtally::cli {

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7F) {
      out += fmt::format("\\u{:04X}", byte);
      continue;
    }
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

void write_whole(const std::filesystem::path& file, std::string_view text, std::string_view help) {
  const std::filesystem::path beside = file.string() + ".new";
  std::error_code error;
  bool written = false;
  {
    std::ofstream out(beside, std::ios::binary);
    out << text << std::flush;
    written = static_cast<bool>(out);
  }
  if (written) std::filesystem::rename(beside, file, error);
  if (written && !error) return;
  std::error_code ignored;
  std::filesystem::remove(beside, ignored);
  throw BadInput(Position{file.string(), 0, 0},
                 fmt::format("can't be written{}; {}.", error ? ": " + error.message() : "", help));
}

}  // namespace airtally::cli
