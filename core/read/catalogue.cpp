#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <system_error>

#include "read/built_in_catalogue.hpp"
#include "read/catalogue_private.hpp"
#include "read/table_reader_private.hpp"
#include "read/text_file_private.hpp"
#include "read/toml_file_private.hpp"
#include "units/spelling.hpp"
#include "units/suggest.hpp"

namespace airtally::read {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> toml_files(const fs::path& folder) {
  std::vector<fs::path> files;
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
    if (it->path().extension() == ".toml") files.push_back(it->path());
  }
  std::sort(files.begin(), files.end());  // so that complaints come in the same order on every machine
  return files;
}

}  // namespace

void Catalogue::read_text(const std::string& text, const std::string& file,
                          std::map<std::string, const toml::table*>& of_folder) {
  files_.push_back(std::make_unique<toml::table>(parse_toml(text, file)));
  TableReader top(*files_.back(), "catalogue", *complaints_);
  check_format(top);
  top.know("title");
  for (TableReader& entry : top.tables("entry")) {
    const auto name = entry.text("name");
    if (!name || name->empty()) {
      if (!name && entry.has("name")) continue;
      entry.complain_here("an entry needs a name.");
    } else if (!of_folder.emplace(*name, &entry.raw()).second) {
      entry.complain("name", fmt::format("there are two entries with the name {}.", units::quoted(*name)));
    }
  }
  top.refuse_unknown_keys("a catalogue");
}

void Catalogue::read_folder(const fs::path& folder) {
  std::map<std::string, const toml::table*> of_folder;
  for (const fs::path& file : toml_files(folder)) {
    try {
      read_text(text_of(file), file.string(), of_folder);
    } catch (const BadInput& error) {
      for (const Complaint& complaint : error.complaints()) complaints_->add(complaint.at, complaint.sentence);
    }
  }
  entries_.merge(of_folder);  // keeps what an earlier folder gave
}

void Catalogue::read_built_in() {
  std::map<std::string, const toml::table*> entries;
  for (const CatalogueFile& file : built_in_files())
    read_text(std::string(file.text), std::string(built_in).append(file.name), entries);
  entries_.merge(entries);
}

bool Catalogue::read_more() {
  if (read_ == folders_.size()) {
    read_built_in();
  } else if (read_ < folders_.size()) {
    read_folder(folders_[read_]);
  } else {
    return false;
  }
  ++read_;
  return true;
}

const toml::table* Catalogue::look_up(const std::string& name) {
  do {
    if (const auto found = entries_.find(name); found != entries_.end()) return found->second;
  } while (read_more());
  return nullptr;
}

const toml::table* Catalogue::find(const std::string& name, const Position& at, const std::string& owner) {
  if (name.find_first_of("/\\") != std::string::npos || name.ends_with(".toml")) {
    complaints_->add(
        at, fmt::format("{}: use = {} looks like a path; 'use' takes the name of an entry of the catalogue.", owner,
                        units::quoted(name)));
    return nullptr;
  }
  if (const toml::table* entry = look_up(name)) return entry;
  std::vector<std::string_view> names;
  names.reserve(entries_.size());
  for (const auto& [known, entry] : entries_) names.push_back(known);
  const auto near = units::nearest(name, names);
  std::string help;
  if (near) {
    help = fmt::format(" Did you mean \"{}\"?", *near);
  } else {
    help = " Looked in";
    for (const fs::path& folder : folders_) help += fmt::format(" {} and", folder.string());
    help += " the catalogue that comes with airtally.";
  }
  complaints_->add(at, fmt::format("{}: use = {} is in no catalogue.{}", owner, units::quoted(name), help));
  return nullptr;
}

}  // namespace airtally::read
