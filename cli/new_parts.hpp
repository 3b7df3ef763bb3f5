#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "line/element.hpp"
#include "read/built_in_catalogue.hpp"

/// What `airtally new` asks about, in the order from the pump to the part, and what an answer becomes in the file.
namespace airtally::cli {

/// One thing to ask for.
struct NewPart {
  std::string_view option;                ///< "hose": --hose on the command line
  std::string_view name;                  ///< of the element; "part", "site" and "sensor" are tables of their own
  std::string_view asks;                  ///< "Hose from the pump: tube and length"
  std::string_view usual;                 ///< the answer when there is none; "none" leaves it out
  bool may_lack = true;                   ///< "none" is an answer
  std::vector<line::Kind> kinds;          ///< of the catalogue's entries to choose from
  std::vector<std::string_view> missing;  ///< keys that such an entry lacks and the answer adds: "length"
  std::string_view own;                   ///< TOML of own figures: $1, $2 ... stand for them
  std::string_view figures;               ///< what they are: "bore, length"
  std::string_view example;               ///< "4 mm, 0.8 m"
  std::string_view remark;                ///< comment above it in the file
  std::string_view fuller = "";           ///< the same as `own` for an answer that has more figures; empty: none may
};

const std::vector<NewPart>& new_parts();

/// The catalogue's entries that the part may be.
std::vector<const read::CatalogueEntry*> choices(const NewPart& part, const std::vector<read::CatalogueEntry>& all);

/// What tells an entry from its like, short enough for one line of a list.
std::string choice_words(const read::CatalogueEntry& entry);

/// What an answer becomes in the file: TOML, or what is wrong with the answer.
struct Written {
  std::string toml;     ///< empty when the part is left out, or not understood
  std::string trouble;  ///< a sentence
};

/// `answer` is "none", a number from the list, a name of it (both with what it lacks behind a comma), or own figures.
/// Whether values are in range is for the reader of the file to say.
Written write_part(const NewPart& part, std::string answer, const std::vector<const read::CatalogueEntry*>& list);

}  // namespace airtally::cli
