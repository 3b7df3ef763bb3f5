#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace airtally::bench {

/// One benchmark's median.
struct Row {
  std::string group, what, solver, setting;
  double time = 0.0;  ///< [ns]
  bool failed = false;
  std::map<std::string, double> counters;
};

/// Error against time per solver, and the time at which each would reach an error of 0.1 Pa, as Markdown on stdout.
void work_precision(const std::vector<Row>& rows);
/// The time at which a solver's pull-down of a line has an error of 0.1 Pa [ns]; none where it never has.
std::optional<double> time_at_goal(const std::vector<Row>& rows, const std::string& what, const std::string& solver);
/// The exponent of one shape in one group; NaN where there are not two sizes.
double exponent(const std::vector<Row>& rows, const std::string& group, const std::string& shape);
/// How the cost grows: the exponent b of time = a elements^b between the smallest and the largest line.
void exponents(const std::vector<Row>& rows);

}  // namespace airtally::bench
