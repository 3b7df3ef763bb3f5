#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "read/table_reader_private.hpp"
#include "read/toml_file_private.hpp"
#include "units/spelling.hpp"
#include "units/suggest.hpp"

namespace airtally::read {
namespace {

bool contains(const std::vector<std::string>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

bool contains(std::span<const std::string_view> words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

/// What people call a kind of element, and its word in a line file. No slip of the finger leads from one to the other.
constexpr std::array<std::pair<std::string_view, std::string_view>, 24> other_words{{
    {"hose", "tube"},           {"pipe", "tube"},         {"tubing", "tube"},     {"manifold", "tee"},
    {"splitter", "tee"},        {"distributor", "tee"},   {"cross", "tee"},       {"cup", "nozzle"},
    {"suction cup", "nozzle"},  {"needle", "nozzle"},     {"tip", "nozzle"},      {"pad", "nozzle"},
    {"fitting", "coupler"},     {"connector", "coupler"}, {"adapter", "coupler"}, {"joint", "rotary"},
    {"rotary joint", "rotary"}, {"swivel", "rotary"},     {"shaft", "spindle"},   {"tank", "reservoir"},
    {"vessel", "reservoir"},    {"cap", "plug"},          {"solenoid", "valve"},  {"non-return valve", "check-valve"},
}};

std::string listed(std::span<const std::string_view> words) {
  std::string list;
  for (const std::string_view word : words) {
    if (!list.empty()) list += ", ";
    list += word;
  }
  return list;
}

}  // namespace

TableReader::TableReader(const toml::table& table, std::string owner, Complaints& complaints,
                         std::vector<std::string>* assumed, const toml::table* inherited)
    : table_(&table), inherited_(inherited), owner_(std::move(owner)), complaints_(&complaints), assumed_(assumed) {
  if (const toml::node* use = inherited != nullptr ? table.get("use") : nullptr) used_at_ = place(use->source());
}

Position TableReader::at(const toml::source_region& region) const {
  Position position = place(region);
  return used_at_ && position.file.starts_with(built_in) ? *used_at_ : position;
}

const toml::node* TableReader::find(std::string_view key) const {
  if (const toml::node* own = table_->get(key)) return own;
  return inherited_ != nullptr && !contains(forgotten_, key) ? inherited_->get(key) : nullptr;
}

const toml::node* TableReader::take(std::string_view key) {
  know(key);
  return find(key);
}

bool TableReader::has(std::string_view key) const { return find(key) != nullptr; }
bool TableReader::has_own(std::string_view key) const { return table_->contains(key); }
void TableReader::forget_inherited(std::string_view key) { forgotten_.emplace_back(key); }

void TableReader::know(std::string_view key) {
  if (!contains(known_, key)) known_.emplace_back(key);
}

std::optional<std::string> TableReader::text(std::string_view key) {
  const toml::node* node = take(key);
  if (node == nullptr) return std::nullopt;
  if (const auto* value = node->as_string()) return value->get();
  complain_at(*node, fmt::format("{} must be a text between quotes.", path_of(key)));
  return std::nullopt;
}

std::optional<std::size_t> TableReader::choice(std::string_view key, std::span<const std::string_view> choices) {
  const auto word = text(key);
  if (!word) return std::nullopt;
  const auto found = std::find(choices.begin(), choices.end(), *word);
  if (found != choices.end()) return static_cast<std::size_t>(found - choices.begin());
  auto near = units::nearest(*word, choices);
  const auto other = std::find_if(other_words.begin(), other_words.end(), [&](const auto& pair) {
    return pair.first == units::lower_case(*word) && contains(choices, pair.second);
  });
  if (other != other_words.end()) near = other->second;
  complain(key, fmt::format("{} = {} is none of {}.{}", path_of(key), units::quoted(*word), listed(choices),
                            near ? fmt::format(" Did you mean \"{}\"?", *near) : ""));
  return std::nullopt;
}

TableReader TableReader::inner(const toml::table& table, const std::string& path) const {
  TableReader reader(table, owner_, *complaints_, assumed_);
  reader.prefix_ = path + '.';
  reader.used_at_ = used_at_;
  return reader;
}

std::optional<TableReader> TableReader::table(std::string_view key) {
  const toml::node* node = take(key);
  if (node == nullptr) return std::nullopt;
  if (const auto* inside = node->as_table()) return inner(*inside, path_of(key));
  complain_at(*node, fmt::format("{0} must be a table, written {0} = {{ ... }}.", path_of(key)));
  return std::nullopt;
}

std::vector<TableReader> TableReader::tables(std::string_view key) {
  const toml::node* node = take(key);
  std::vector<TableReader> readers;
  if (node == nullptr) return readers;
  if (const auto* single = node->as_table()) {
    readers.push_back(inner(*single, path_of(key)));
    return readers;
  }
  const std::string sentence = fmt::format(
      "{0} must be a table, written {0} = {{ ... }}, or several as {0} = [{{ ... }}, {{ ... }}].", path_of(key));
  const auto* array = node->as_array();
  if (array == nullptr) {
    complain_at(*node, sentence);
    return readers;
  }
  std::size_t number = 0;
  for (const toml::node& item : *array) {
    ++number;
    if (const auto* inside = item.as_table()) {
      readers.push_back(inner(*inside, fmt::format("{}[{}]", path_of(key), number)));
    } else {
      complain_at(item, sentence);
    }
  }
  return readers;
}

void TableReader::refuse_unknown_keys(std::string_view noun) {
  const std::vector<std::string_view> known(known_.begin(), known_.end());
  for (const toml::table* source : {table_, inherited_}) {
    if (source == nullptr) continue;
    for (const auto& [key, value] : *source) {
      if (contains(known_, key.str())) continue;
      const auto near = units::nearest(key.str(), known);
      const std::string help =
          near ? fmt::format("Did you mean '{}'?", *near) : fmt::format("Allowed: {}.", listed(known));
      complaints_->add(at(key.source()),
                       fmt::format("{}: '{}{}' is not a key of {}. {}", owner_, prefix_, key.str(), noun, help));
    }
  }
}

void TableReader::complain(std::string_view key, const std::string& sentence) {
  complaints_->add(where(key), fmt::format("{}: {}", owner_, sentence));
}

void TableReader::complain_here(const std::string& sentence) {
  complaints_->add(where(), fmt::format("{}: {}", owner_, sentence));
}

void TableReader::complain_at(const toml::node& node, const std::string& sentence) {
  complaints_->add(at(node.source()), fmt::format("{}: {}", owner_, sentence));
}

void TableReader::assume(std::string_view phrase) {
  if (assumed_ != nullptr) assumed_->emplace_back(prefix_ + std::string(phrase));
}

Position TableReader::where(std::string_view key) const {
  const toml::node* node = find(key);
  return node != nullptr ? at(node->source()) : where();
}

Position TableReader::where() const { return at(table_->source()); }

void check_format(TableReader& top) {
  constexpr std::int64_t format = 1;
  top.know("format");
  const toml::node* node = top.raw().get("format");
  if (node == nullptr) {
    top.complain_here("needs 'format = 1' at its top, so that later versions of airtally know how to read it.");
  } else if (node->value_exact<std::int64_t>() != format) {
    top.complain("format", "format must be 1, the only format that this version of airtally knows.");
  }
}

}  // namespace airtally::read
