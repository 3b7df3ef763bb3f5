#pragma once
#include <string>
#include <vector>

#include "report/look.hpp"
#include "study/question.hpp"

/// Answers of many variants of a line, one below the other.
namespace airtally::report {

/// One variant: what was set, and its answer.
struct SweepPoint {
  std::vector<std::string> values;  ///< as they were set, per name: "0.4 mm"
  std::vector<double> answers;      ///< per measure [SI]; empty when the solver gave up
  std::string trouble;              ///< why it gave up; empty when it did not
};

/// A table of the shown measures, a row per variant; `names`: what was set.
std::string sweep_text(const std::vector<std::string>& names, const study::Question& question,
                       const std::vector<SweepPoint>& points, const Look& look);

/// All measures as CSV with a header: what was set as it was set, the rest in SI with the unit in the head,
/// "tip_vacuum_pa nozzle". A missing number is left empty. Points of curves are left out: each line has its own
/// moments.
std::string sweep_csv(const std::vector<std::string>& names, const study::Question& question,
                      const std::vector<SweepPoint>& points);

/// A command's JSON on one line, with what was set under the key "set".
std::string sweep_json(const std::vector<std::string>& names, const SweepPoint& point, const std::string& json);

}  // namespace airtally::report
