#include "read/stock.hpp"

#include <algorithm>
#include <system_error>

#include "read/built_in_catalogue.hpp"
#include "read/element_private.hpp"
#include "read/text_file_private.hpp"
#include "read/toml_file_private.hpp"

namespace airtally::read {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> files_in(const fs::path& place) {
  std::error_code error;
  if (!fs::is_directory(place, error)) return {place};  // one that is not there is complained of when it is read
  std::vector<fs::path> files;
  for (fs::directory_iterator it(place, error), end; !error && it != end; it.increment(error))
    if (it->path().extension() == ".toml") files.push_back(it->path());
  std::sort(files.begin(), files.end());
  return files;
}

void read_entries(const toml::table& file, const std::vector<line::Kind>& kinds, double site_pressure,
                  Complaints& complaints, std::vector<line::Seal>& stock) {
  TableReader top(file, "catalogue", complaints);
  check_format(top);
  top.know("title");
  for (const TableReader& entry : top.tables("entry")) {
    const auto kind = line::kind_of(entry.raw()["kind"].value_or(std::string()));
    if (!kind || std::find(kinds.begin(), kinds.end(), *kind) == kinds.end()) continue;
    const std::string name = entry.raw()["name"].value_or(std::string());
    if (name.empty()) {
      TableReader(entry.raw(), "catalogue", complaints).complain_here("an entry needs a name.");
      continue;
    }
    std::vector<std::string> assumed;
    TableReader reader(entry.raw(), "entry '" + name + "'", complaints, &assumed);
    for (const char* key : {"name", "kind"}) reader.know(key);
    line::Seal seal{read_element(reader, name, *kind, site_pressure), std::nullopt};
    seal.element.assumed = std::move(assumed);
    if (*kind == line::Kind::rotary)
      if (const auto friction = reader.quantity("friction", limits::seal_friction)) seal.friction = friction->value;
    const auto same = [&](const line::Seal& other) { return other.element.name == name; };
    if (std::none_of(stock.begin(), stock.end(), same)) stock.push_back(std::move(seal));
  }
  top.refuse_unknown_keys("a catalogue");
}

std::vector<line::Seal> read_all(const std::vector<fs::path>& from, const std::vector<line::Kind>& kinds,
                                 double site_pressure) {
  std::vector<line::Seal> stock;
  Complaints complaints(from.empty() ? std::string() : from.front().string());
  if (from.empty())
    for (const CatalogueFile& file : built_in_files())
      read_entries(parse_toml(file.text, std::string(file.name)), kinds, site_pressure, complaints, stock);
  for (const fs::path& place : from)
    for (const fs::path& name : files_in(place)) {
      const toml::table file = parse_toml(text_of(name), name.string());
      read_entries(file, kinds, site_pressure, complaints, stock);
    }
  complaints.throw_if_any();
  return stock;
}

}  // namespace

std::vector<line::Element> read_stock(const std::vector<fs::path>& from, const std::vector<line::Kind>& kinds,
                                      double site_pressure) {
  std::vector<line::Element> elements;
  for (line::Seal& seal : read_all(from, kinds, site_pressure)) elements.push_back(std::move(seal.element));
  return elements;
}

std::vector<line::Seal> read_seals(const std::vector<fs::path>& from, double site_pressure) {
  return read_all(from, {line::Kind::rotary}, site_pressure);
}

}  // namespace airtally::read
