#pragma once
#include <filesystem>
#include <string>
#include <string_view>

/// Files that the command writes.
namespace airtally::cli {

/// `text` as a TOML string between quotes, whatever is in it.
std::string toml_text(std::string_view text);

/// Writes a file whole or not at all: beside it first, then moved over it. `help` ends the complaint when it can't be
/// written: "choose another place with --save". Throws BadInput.
void write_whole(const std::filesystem::path& file, std::string_view text, std::string_view help);

}  // namespace airtally::cli
