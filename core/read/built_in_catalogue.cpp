#include "read/built_in_catalogue.hpp"

#include <algorithm>

#include "read/toml_file_private.hpp"

namespace airtally::read {
namespace {

/// What stands between two places of a text, both counted from 1; the second is the first byte beyond.
std::string between(std::string_view text, const toml::source_region& region) {
  const auto offset = [&](const toml::source_position& at) {
    std::size_t begin = 0;
    for (toml::source_index line = 1; line < at.line; ++line) begin = text.find('\n', begin) + 1;
    return begin + at.column - 1;
  };
  const std::size_t from = offset(region.begin);
  return std::string(text.substr(from, offset(region.end) - from));
}

CatalogueEntry entry_of(const toml::table& table, std::string_view text) {
  CatalogueEntry entry;
  entry.name = table["name"].value_or(std::string());
  entry.kind = line::kind_of(table["kind"].value_or(std::string_view())).value();
  std::vector<std::pair<std::uint32_t, std::pair<std::string, std::string>>> keys;  // by line
  for (const auto& [key, value] : table) {
    if (key == "name" || key == "kind") continue;
    keys.push_back({value.source().begin.line, {std::string(key.str()), between(text, value.source())}});
  }
  std::sort(keys.begin(), keys.end());
  entry.keys.reserve(keys.size());
  for (auto& [line, pair] : keys) entry.keys.push_back(std::move(pair));
  return entry;
}

}  // namespace

std::vector<CatalogueEntry> built_in_catalogue() {
  std::vector<CatalogueEntry> all;
  for (const CatalogueFile& file : built_in_files()) {
    const toml::table parsed = parse_toml(file.text, std::string(file.name));
    for (const toml::node& node : *parsed["entry"].as_array()) all.push_back(entry_of(*node.as_table(), file.text));
  }
  return all;
}

}  // namespace airtally::read
