#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "read/complaints_private.hpp"
#include "read/limits_private.hpp"
#include "read/toml_private.hpp"
#include "units/quantity.hpp"

namespace airtally::read {

using units::Quantity;

/// One table of a file, asked key by key. Whatever is wrong becomes a complaint with the place of the value; the asker
/// gets nothing (or the fallback) and goes on, so that one run finds all mistakes. Every key asked for counts as known;
/// refuse_unknown_keys() then complains of the rest.
class TableReader {
 public:
  /// `owner` begins each sentence ("element 'pump'"). Keys that `table` lacks are looked up in `inherited`, a catalogue
  /// entry. Defaults taken are noted in `assumed`, if given. What is wrong with a value from the catalogue that is
  /// built in, which nobody can open, stands where the table says `use`.
  TableReader(const toml::table& table, std::string owner, Complaints& complaints,
              std::vector<std::string>* assumed = nullptr, const toml::table* inherited = nullptr);

  const toml::table& raw() const { return *table_; }
  bool has(std::string_view key) const;
  /// Stated in the file itself, not taken from the catalogue.
  bool has_own(std::string_view key) const;
  /// As if the catalogue entry did not have that key.
  void forget_inherited(std::string_view key);

  std::optional<Quantity> quantity(std::string_view key, const Limits& limits);
  /// Of what has neither tolerance nor range; one that has is complained of.
  std::optional<double> single(std::string_view key, const Limits& limits);
  double single(std::string_view key, const Quantity& quantity);
  /// Complains when the key is missing.
  Quantity needed(std::string_view key, const Limits& limits);
  /// Notes "KEY not given: WORDS" when the key is missing.
  Quantity quantity_or(std::string_view key, const Limits& limits, Quantity fallback, std::string_view words);

  std::optional<std::string> text(std::string_view key);
  /// Index of one of a few words; `choices` are listed in the complaint.
  std::optional<std::size_t> choice(std::string_view key, std::span<const std::string_view> choices);
  std::optional<TableReader> table(std::string_view key);
  /// The tables of `key = { ... }` or `key = [{ ... }, { ... }]`.
  std::vector<TableReader> tables(std::string_view key);
  /// Pairs such as [["0 kPa", "8 L/min"], ...]; nothing after a complaint about any of them.
  std::optional<std::vector<std::pair<Quantity, Quantity>>> pairs(std::string_view key, const Limits& first,
                                                                  const Limits& second);

  /// Calls the key known without asking for it.
  void know(std::string_view key);
  /// `noun` names what the table is, as in "a tube".
  void refuse_unknown_keys(std::string_view noun);

  void complain(std::string_view key, const std::string& sentence);
  void complain_here(const std::string& sentence);
  void assume(std::string_view phrase);
  /// Place of the value of `key`, or of the table when there is none.
  Position where(std::string_view key) const;
  Position where() const;

 private:
  const toml::node* find(std::string_view key) const;
  const toml::node* take(std::string_view key);
  std::optional<Quantity> read(const toml::node& node, const std::string& path, const Limits& limits);
  std::optional<Quantity> within(const toml::node& node, const std::string& path, const Limits& limits,
                                 const std::string& written, const Quantity& quantity);
  Position at(const toml::source_region& region) const;
  void complain_at(const toml::node& node, const std::string& sentence);
  std::string path_of(std::string_view key) const { return prefix_ + std::string(key); }
  TableReader inner(const toml::table& table, const std::string& path) const;

  const toml::table* table_;
  const toml::table* inherited_;
  std::string owner_;
  std::optional<Position> used_at_;  // of `use` in the table whose values may come from a catalogue
  std::string prefix_;               // "leak." inside a table of that name
  Complaints* complaints_;
  std::vector<std::string>* assumed_;
  std::vector<std::string> known_;
  std::vector<std::string> forgotten_;
};

/// The key `format` that every file of ours begins with: must be 1.
void check_format(TableReader& top);

}  // namespace airtally::read
