#include "units/suggest.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "units/spelling.hpp"

namespace airtally::units {

std::size_t slips(std::string_view a, std::string_view b) {
  const std::string from = lower_case(a);
  const std::string to = lower_case(b);
  // Three rows of the table of distances between the first i letters of one and the first j of the other.
  std::vector<std::size_t> before_last(to.size() + 1);
  std::vector<std::size_t> last(to.size() + 1);
  std::vector<std::size_t> row(to.size() + 1);
  for (std::size_t j = 0; j <= to.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= from.size(); ++i) {
    std::swap(before_last, last);
    std::swap(last, row);
    row[0] = i;
    for (std::size_t j = 1; j <= to.size(); ++j) {
      const std::size_t changed = last[j - 1] + (from[i - 1] == to[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, changed});
      const bool swapped = i > 1 && j > 1 && from[i - 1] == to[j - 2] && from[i - 2] == to[j - 1];
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
  }
  return row[to.size()];
}

std::optional<std::string_view> nearest(std::string_view word, std::span<const std::string_view> known) {
  constexpr std::size_t longest = 80;  // nobody mistypes a word that long; bounds the work on hostile files
  if (word.empty() || word.size() > longest) return std::nullopt;
  std::size_t fewest = std::max<std::size_t>(1, word.size() / 3) + 1;
  std::optional<std::string_view> best;
  for (const std::string_view candidate : known) {
    if (candidate.size() > longest) continue;
    const std::size_t distance = slips(word, candidate);
    // A word of which nothing is left unchanged is another word.
    if (distance < fewest && distance < std::max(word.size(), candidate.size())) {
      fewest = distance;
      best = candidate;
    }
  }
  return best;
}

namespace {

/// Whether `name` has `word` in it from blank to blank, both in lower case.
bool has_word(const std::string& name, const std::string& word) {
  for (std::size_t at = name.find(word); at != std::string::npos; at = name.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    if ((at == 0 || name[at - 1] == ' ') && (end == name.size() || name[end] == ' ' || name[end] == ',')) return true;
  }
  return false;
}

}  // namespace

std::optional<std::string_view> nearest_name(std::string_view word, std::span<const std::string_view> known) {
  if (const auto near = nearest(word, known)) return near;
  if (word.empty()) return std::nullopt;
  const std::string wanted = lower_case(word);
  const auto found = std::find_if(known.begin(), known.end(), [&](std::string_view name) {
    return name.size() > word.size() && has_word(lower_case(name), wanted);
  });
  return found == known.end() ? std::nullopt : std::optional(*found);
}

}  // namespace airtally::units
