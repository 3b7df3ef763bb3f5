#pragma once
#include <string>
#include <vector>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/question.hpp"

/// How sure an answer is, to stand below it.
namespace airtally::report {

/// A number [SI] of that quality in a unit for people: "45.4 kPa"; a chance as "98 %". Not a finite number: "never".
std::string shown(study::Quality quality, double value, const Look& look);
/// The same with its band [SI]: "45.4 kPa (41.2 .. 49.0)". Not for chances.
std::string shown(study::Quality quality, const study::Band& band, const Look& look);
/// The same of the `values` [SI] that the band is of, with the part of them that is infinite: "85 ms (82 .. never),
/// never in 25 %"; "never" where none of them is finite.
std::string shown(study::Quality quality, const study::Band& band, const std::vector<double>& values, const Look& look);
/// A probability 0 to 1 in words: "98 %", "under 1 %", "over 99 %".
std::string chance(double probability);
/// The scale that suits numbers of a quality of which `largest` [SI] is the largest in size. Not for numbers without
/// unit and chances.
Scale scale_of(study::Quality quality, double largest, const Look& look);
/// The mean of the finite numbers among the values, in their unit; 0 when there are none.
double mean_of(const std::vector<double>& values);

/// The bands of the shown measures, what to measure next, and how many lines were drawn.
std::string bands_text(const study::Question& question, const study::Bands& bands, const Look& look);

/// A command's JSON with the bands under the key "bands"; docs/json.md lists what is below it. `nominal`: a value per
/// measure [SI].
std::string with_bands(const std::string& json, const study::Question& question, const study::Bands& bands,
                       const std::vector<double>& nominal);

}  // namespace airtally::report
