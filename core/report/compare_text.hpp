#pragma once
#include <span>
#include <string>

#include "report/look.hpp"
#include "study/compare.hpp"

/// Variants of a line side by side.
namespace airtally::report {

/// What a variant is called in a table, by its index: "A", "B" ... for the first 26, then "27".
std::string letter(std::size_t variant);

/// Verdict, differences in the files, results in blocks of five columns, and how sure, at most 80 columns wide. `bands`
/// without samples are left out.
std::string compare_text(std::span<const study::Variant> variants, const study::Comparison& comparison,
                         const study::CompareBands& bands, const Look& look);

/// Who is better for what, and by how much: a sentence for all of it, then one for each aim.
std::string compare_verdict(std::span<const study::Variant> variants, const study::Comparison& comparison,
                            const study::CompareBands& bands, const Look& look);

/// In what the files differ, a paragraph each.
std::string differences_text(std::span<const study::Variant> variants, const study::Comparison& comparison,
                             const Look& look);

/// The same as JSON, format 1; docs/json.md lists the keys.
std::string compare_json(std::span<const study::Variant> variants, const study::Comparison& comparison,
                         const study::CompareBands& bands);

}  // namespace airtally::report
