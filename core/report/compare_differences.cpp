#include <fmt/format.h>

#include <algorithm>

#include "report/compare_text.hpp"
#include "report/describe.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

constexpr std::size_t most_rows = 24;

std::string value_text(const line::Difference& difference, std::size_t v, const Look& look) {
  const auto& value = difference.values[v];
  if (!value) return "none";
  if (const auto* quantity = std::get_if<units::Quantity>(&*value)) return said(*quantity, difference.dimension, look);
  return clean(std::get<std::string>(*value));
}

/// An element or a table that only some have.
std::string only_some(std::span<const study::Variant> variants, const line::Difference& difference, const Look& look) {
  std::vector<std::string> have;
  std::string what;
  for (std::size_t v = 0; v < variants.size(); ++v) {
    if (!difference.values[v]) continue;
    have.push_back(letter(v));
    if (!what.empty()) continue;
    what = difference.elements[v] ? described(variants[v].line.elements[*difference.elements[v]], look)
                                  : value_text(difference, v, look);
  }
  if (std::none_of(difference.elements.begin(), difference.elements.end(), [](const auto& e) { return e.has_value(); }))
    return fmt::format("{}: only {} {} one", clean(difference.owner), listed(have), have.size() == 1 ? "has" : "have");
  return fmt::format("{}: only {} {} it: {}", clean(difference.owner), listed(have), have.size() == 1 ? "has" : "have",
                     what);
}

}  // namespace

std::string differences_text(std::span<const study::Variant> variants, const study::Comparison& comparison,
                             const Look& look) {
  const auto& all = comparison.differences;
  if (all.empty()) return paragraph("The files say the same.");
  std::string out = look.style.bold("What differs in the files") + '\n';
  for (std::size_t d = 0; d < all.size() && d < most_rows; ++d) {
    const line::Difference& difference = all[d];
    std::string text;
    if (difference.key.empty()) {
      text = only_some(variants, difference, look);
    } else {
      std::vector<std::string> values;
      for (std::size_t v = 0; v < variants.size(); ++v) {
        // An owner that it has not is told elsewhere.
        const bool owner = line::find(variants[v].line, difference.owner).has_value() || difference.values[v];
        if (owner) values.push_back(letter(v) + ' ' + value_text(difference, v, look));
      }
      text = fmt::format("{}, {}: {}", clean(difference.owner), clean(difference.key), fmt::join(values, "; "));
    }
    out += paragraph("  " + text, 80, 4);
  }
  if (all.size() > most_rows) out += fmt::format("  and {} more: see --json.\n", all.size() - most_rows);
  return out;
}

}  // namespace airtally::report
