#include "read/others_file.hpp"

#include <fmt/format.h>

#include "read/change_private.hpp"
#include "read/element_private.hpp"
#include "read/tables_private.hpp"
#include "read/toml_file_private.hpp"

namespace airtally::read {

Others read_others_text(std::string_view text, const std::string& name, double site_pressure,
                        const std::vector<std::filesystem::path>& catalogues, const std::vector<Change>& changes) {
  toml::table file = parse_toml(text, name);
  Complaints complaints(name);
  Catalogue catalogue(catalogues, complaints);
  apply(changes, file, catalogue, complaints);
  TableReader top(file, "line", complaints);
  Others others;
  for (const TableReader& other : top.tables("other-part")) {
    TableReader table(other.raw(), fmt::format("other-part {}", others.parts.size() + 1), complaints);
    if (!table.has("name")) table.complain_here("needs a name, to be told from the line's own part.");
    others.parts.push_back(read_part(table, site_pressure));
  }
  for (const TableReader& other : top.tables("other-nozzle")) {
    const std::string owner = fmt::format("other-nozzle {}", others.nozzles.size() + 1);
    TableReader own(other.raw(), owner, complaints);
    const toml::table* entry = nullptr;
    if (const auto use = own.text("use")) entry = catalogue.find(*use, own.where("use"), owner);
    if (own.has("use") && entry == nullptr) continue;
    TableReader table(other.raw(), owner, complaints, nullptr, entry);
    for (const char* key : {"name", "kind", "use"}) table.know(key);
    const std::string called = table.text("name").value_or("");
    if (called.empty()) table.complain_here("needs a name, such as name = \"nozzle 0.6 mm\", or a 'use'.");
    if (table.text("kind").value_or("nozzle") != "nozzle") table.complain("kind", "it is a nozzle; leave 'kind' out.");
    others.nozzles.push_back(read_element(table, called, line::Kind::nozzle, site_pressure));
  }
  complaints.throw_if_any();
  return others;
}

Others read_others(const std::filesystem::path& file, double site_pressure,
                   const std::vector<std::filesystem::path>& catalogues, const std::vector<Change>& changes) {
  return read_others(line_text(file), site_pressure, catalogues, changes);
}

Others read_others(const LineText& file, double site_pressure, const std::vector<std::filesystem::path>& catalogues,
                   const std::vector<Change>& changes) {
  return read_others_text(file.text, file.name, site_pressure, catalogues_of(file, catalogues), changes);
}

}  // namespace airtally::read
