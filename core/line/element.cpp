#include "line/element.hpp"

#include <algorithm>

namespace airtally::line {

const std::vector<std::string_view>& kind_words() {
  static const std::vector<std::string_view> words{"pump",        "ejector", "tube",      "spindle", "coupler",
                                                   "rotary",      "nozzle",  "valve",     "filter",  "trap",
                                                   "check-valve", "tee",     "reservoir", "plug"};
  return words;
}

std::string_view word(Kind kind) { return kind_words()[static_cast<std::size_t>(kind)]; }

std::optional<Kind> kind_of(std::string_view word) {
  const auto& words = kind_words();
  const auto found = std::find(words.begin(), words.end(), word);
  if (found == words.end()) return std::nullopt;
  return static_cast<Kind>(found - words.begin());
}

bool is_source(Kind kind) { return kind == Kind::pump || kind == Kind::ejector; }

bool is_place(Kind kind) { return kind == Kind::tee || kind == Kind::reservoir || kind == Kind::plug; }

}  // namespace airtally::line
