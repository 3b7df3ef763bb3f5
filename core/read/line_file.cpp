#include "read/line_file.hpp"

#include <fmt/format.h>

#include <optional>
#include <type_traits>

#include "read/catalogue_private.hpp"
#include "read/change_private.hpp"
#include "read/element_private.hpp"
#include "read/line_text.hpp"
#include "read/tables_private.hpp"
#include "read/toml_file_private.hpp"
#include "units/spelling.hpp"
#include "units/suggest.hpp"

namespace airtally::read {
namespace {

constexpr std::size_t longest_name = 60;
constexpr std::size_t most_elements = 2000;  ///< keeps reading and solving any file within seconds

class LineReader {
 public:
  LineReader(toml::table file, std::string name, std::vector<std::filesystem::path> catalogues,
             const std::vector<Change>& changes)
      : file_(std::move(file)), complaints_(name), catalogue_(std::move(catalogues), complaints_) {
    line_.file = std::move(name);
    apply(changes, file_, catalogue_, complaints_);
  }

  line::Line read() {
    TableReader top(file_, "line", complaints_);
    if (!top.has("element") && (top.has("reading") || top.has("line"))) {  // then nothing else is worth a complaint
      top.complain_here(
          "is a readings file; give it to 'airtally hunt', which finds its line by itself, or beside its line as in "
          "'airtally strip LINE --readings FILE'.");
      complaints_.throw_if_any();
    }
    check_format(top);
    line_.title = top.text("title").value_or("");
    read_site_table(top);
    line_.part = read_if(top, "part", [&](TableReader& table) { return read_part(table, line_.site.pressure); });
    line_.move = read_if(top, "move", read_move);
    line_.cycle = read_if(top, "cycle", read_cycle);
    line_.sensor = read_if(top, "sensor", read_sensor);
    const std::vector<TableReader> elements = top.tables("element");
    if (elements.size() > most_elements) {
      complaints_.add(
          elements[most_elements].where(),
          fmt::format("line: has {} elements; {} are the most that airtally takes. Leave out what is alike, "
                      "or make several lines of it.",
                      elements.size(), most_elements));
      complaints_.throw_if_any();
    }
    for (const TableReader& element : elements) read_one(element.raw());
    if (!top.has("element")) {
      top.complain_here("has no elements; describe each in a table [[element]], from the pump to the nozzle.");
    }
    // These belong to the commands that use them.
    for (const char* key : {"twist", "other-part", "other-nozzle"}) top.know(key);
    top.refuse_unknown_keys("a line file");
    complaints_.throw_if_any();
    return std::move(line_);
  }

 private:
  void read_site_table(TableReader& top) {
    const toml::table nothing;
    const auto site = top.table("site");
    TableReader table(site ? site->raw() : nothing, "site", complaints_, &line_.assumed);
    line_.site = read_site(table);
  }

  /// The table `key` as `reader` reads it; nothing where the file has none.
  template <typename Reader>
  auto read_if(TableReader& top, const char* key, Reader reader)
      -> std::optional<std::invoke_result_t<Reader, TableReader&>> {
    const auto found = top.table(key);
    if (!found) return std::nullopt;
    TableReader table(found->raw(), key, complaints_, &line_.assumed);
    return reader(table);
  }

  void read_one(const toml::table& table) {
    ++number_;
    const std::string name = read_name(table);
    const std::string owner = name.empty() ? fmt::format("element {}", number_) : fmt::format("element '{}'", name);
    TableReader own(table, owner, complaints_);
    const toml::table* entry = nullptr;
    if (const auto use = own.text("use")) entry = catalogue_.find(*use, own.where("use"), owner);
    if (own.has("use") && entry == nullptr) return;  // what is missing can't be told while the entry isn't known
    std::vector<std::string> assumed;
    TableReader reader(table, owner, complaints_, &assumed, entry);
    for (const char* key : {"name", "kind", "use"}) reader.know(key);
    const auto kind = read_kind(reader, entry);
    if (!kind) return;
    line::Element element = read_element(reader, name, *kind, line_.site.pressure);
    element.assumed = std::move(assumed);
    line_.elements.push_back(std::move(element));
  }

  std::string read_name(const toml::table& table) {
    TableReader reader(table, fmt::format("element {}", number_), complaints_);
    if (!reader.has("name")) {
      reader.complain_here("needs a name, such as name = \"supply hose\".");
      return {};
    }
    const auto name = reader.text("name");
    if (!name) return {};
    const bool blank = name->find_first_not_of(' ') == std::string::npos;
    bool control = false;
    for (const char c : *name) control = control || static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
    if (blank || control || name->size() > longest_name) {
      reader.complain("name",
                      fmt::format("a name has 1 to {} bytes on one line, no control characters, and not only spaces.",
                                  longest_name));
      return {};
    }
    return *name;
  }

  std::optional<line::Kind> read_kind(TableReader& table, const toml::table* entry) {
    if (!table.has("kind")) {
      table.complain_here("needs a kind, such as kind = \"tube\".");
      return std::nullopt;
    }
    const auto index = table.choice("kind", line::kind_words());
    if (!index) return std::nullopt;
    const auto kind = static_cast<line::Kind>(*index);
    const std::string of_entry = entry != nullptr ? (*entry)["kind"].value_or(std::string()) : std::string();
    if (!of_entry.empty() && of_entry != line::word(kind)) {
      table.complain("kind",
                     fmt::format("kind = \"{}\", but the catalogue's entry is a {}; use another entry or leave 'kind' "
                                 "out.",
                                 line::word(kind), units::quoted(of_entry)));
      return std::nullopt;
    }
    return kind;
  }

  toml::table file_;  // moved, never copied: copies forget where they were written
  Complaints complaints_;
  Catalogue catalogue_;
  line::Line line_;
  int number_ = 0;
};

}  // namespace

line::Line read_line_text(std::string_view text, const std::string& name,
                          const std::vector<std::filesystem::path>& catalogues, const std::vector<Change>& changes) {
  return LineReader(parse_toml(text, name), name, catalogues, changes).read();
}

line::Line read_line(const std::filesystem::path& file, const std::vector<std::filesystem::path>& catalogues,
                     const std::vector<Change>& changes) {
  return read_line(line_text(file), catalogues, changes);
}

}  // namespace airtally::read
