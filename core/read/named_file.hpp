#pragma once
#include <filesystem>
#include <string>

#include "errors.hpp"

namespace airtally::read {

/// The file that a file of somebody's names, as `line = "../jewel-setter.toml"` does. A relative name is looked for
/// beside the naming file, then from the working folder, and what is found must lie, links followed, in the naming
/// file's folder or the one above it, in the working folder, or below one of these: a file from elsewhere must not lead
/// the program about the disk. An absolute path is taken at its word. `at` is where the name stands, `key` what it
/// belongs to, both for the complaint. Throws BadInput where it may not or does not exist; an absolute path is not
/// looked for here.
std::filesystem::path named_file(const std::filesystem::path& from, const std::string& name, const Position& at,
                                 const std::string& key);

/// How `from` is to name `file`: relative where named_file() will find it so, else absolute.
std::string name_for(const std::filesystem::path& from, const std::filesystem::path& file);

}  // namespace airtally::read
