#include "read/named_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <system_error>
#include <vector>

#include "units/spelling.hpp"

namespace airtally::read {
namespace {

namespace fs = std::filesystem;

fs::path folder_of(const fs::path& file) {
  std::error_code error;
  const fs::path whole = fs::weakly_canonical(fs::absolute(file, error), error);
  return whole.parent_path();
}

bool below(const fs::path& file, const fs::path& folder) {
  return std::mismatch(folder.begin(), folder.end(), file.begin(), file.end()).first == folder.end();
}

/// Where what `from` names may lie. The folder above counts only as long as it is not the whole disk.
std::vector<fs::path> roots_of(const fs::path& from) {
  std::error_code error;
  const fs::path own = folder_of(from), above = own.parent_path();
  std::vector<fs::path> roots{own, fs::weakly_canonical(fs::current_path(error), error)};
  if (above != above.root_path()) roots.push_back(above);
  return roots;
}

bool reaches(const fs::path& from, const fs::path& file) {
  std::error_code error;
  const fs::path target = fs::weakly_canonical(fs::absolute(file, error), error);
  const std::vector<fs::path> roots = roots_of(from);
  return std::any_of(roots.begin(), roots.end(), [&](const fs::path& root) { return below(target, root); });
}

}  // namespace

fs::path named_file(const fs::path& from, const std::string& name, const Position& at, const std::string& key) {
  std::error_code error;
  const fs::path named(name);
  if (named.is_absolute()) return named;
  for (const fs::path& candidate : {from.parent_path() / named, named}) {
    if (reaches(from, candidate)) {
      if (fs::exists(candidate, error)) return candidate;
      continue;
    }
    throw BadInput(at,
                   fmt::format("{} = {} leads out of the folders that this file may name: its own and the one above "
                               "it, the working folder, and what lies below them. Move the file there, or write its "
                               "absolute path.",
                               key, units::quoted(name)));
  }
  throw BadInput(at, fmt::format("{} = {}: there is no such file, neither beside this one nor in the working folder.",
                                 key, units::quoted(name)));
}

std::string name_for(const fs::path& from, const fs::path& file) {
  std::error_code error;
  const fs::path whole = fs::weakly_canonical(fs::absolute(file, error), error);
  if (!reaches(from, file)) return whole.string();
  const fs::path relative = fs::relative(whole, folder_of(from), error);
  return relative.empty() ? whole.string() : relative.string();
}

}  // namespace airtally::read
