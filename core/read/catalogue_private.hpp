#pragma once
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "read/complaints_private.hpp"
#include "read/toml_private.hpp"

namespace airtally::read {

/// Elements that a line may `use` by name. Each folder holds *.toml files of the form
///
///   format = 1
///   [[entry]]
///   name = "tube 4x2.5"
///   kind = "tube"
///   bore = "2.5 mm"
///
/// where the keys of an entry are those of an element. Folders are looked through in order; the first that knows a name
/// gives it, and the catalogue that is built in comes last. A folder is read when none before it has the name, so
/// what is wrong in one that is not asked is not complained of.
class Catalogue {
 public:
  Catalogue(std::vector<std::filesystem::path> folders, Complaints& complaints)
      : folders_(std::move(folders)), complaints_(&complaints) {}

  /// The entry of that name; nullptr after a complaint at `at`, whose sentence begins with `owner`.
  const toml::table* find(const std::string& name, const Position& at, const std::string& owner);

  /// The same without a complaint.
  const toml::table* look_up(const std::string& name);

 private:
  /// Reads the next folder, after the last one what is built in; false when all are read.
  bool read_more();
  void read_folder(const std::filesystem::path& folder);
  void read_built_in();
  void read_text(const std::string& text, const std::string& file,
                 std::map<std::string, const toml::table*>& of_folder);

  std::vector<std::filesystem::path> folders_;
  Complaints* complaints_;
  std::size_t read_ = 0;                             ///< folders, and the built-in one
  std::vector<std::unique_ptr<toml::table>> files_;  // own what the entries point into
  std::map<std::string, const toml::table*> entries_;
};

}  // namespace airtally::read
