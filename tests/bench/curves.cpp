#include "curves.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <optional>

namespace airtally::bench {
namespace {

constexpr double wanted = 0.1;  ///< error [Pa]

template <class Key>
std::vector<std::string> names(const std::vector<Row>& rows, const std::string& group, Key key) {
  std::vector<std::string> found;
  for (const Row& row : rows)
    if (row.group == group && std::find(found.begin(), found.end(), key(row)) == found.end()) found.push_back(key(row));
  return found;
}

/// The time at the wanted error, on straight lines between the points' logarithms; the least of what the curve offers.
std::optional<double> time_at(const std::vector<Row>& curve) {
  std::optional<double> best;
  const auto offer = [&](double time) { best = best ? std::min(*best, time) : time; };
  for (std::size_t i = 0; i < curve.size(); ++i) {
    const double error = curve[i].counters.at("error_pa");
    if (error <= wanted) offer(curve[i].time);
    if (i == 0) continue;
    const double before = curve[i - 1].counters.at("error_pa");
    if ((before - wanted) * (error - wanted) >= 0.0) continue;
    const double share = std::log(wanted / before) / std::log(error / before);
    offer(curve[i - 1].time * std::pow(curve[i].time / curve[i - 1].time, share));
  }
  return best;
}

}  // namespace

void work_precision(const std::vector<Row>& rows) {
  const std::string group = "pull-down";
  std::printf(
      "\n## Pull-down: error against time\n\nFrom ambient over twice the settle time, isothermal; the pick: part on, "
      "the "
      "valve opens, holds and vents, every solver starts anew at the\nfour changes. Each cell is the greatest error at "
      "the tip over forty times, and the time. The last two columns: time to an error of %.1f Pa, "
      "and "
      "ours over it.\n",
      wanted);
  const auto settings = names(rows, group, [](const Row& r) { return r.setting; });
  for (const std::string& what : names(rows, group, [](const Row& r) { return r.what; })) {
    std::printf("\n### %s\n\n| solver |", what.c_str());
    for (const std::string& setting : settings) std::printf(" %s |", setting.c_str());
    std::printf(" %.1f Pa | ours over it |\n|---|", wanted);
    for (std::size_t i = 0; i < settings.size() + 2; ++i) std::printf("---|");
    std::printf("\n");
    std::optional<double> own;
    for (const std::string& solver : names(rows, group, [](const Row& r) { return r.solver; })) {
      std::vector<Row> curve;
      for (const Row& row : rows)
        if (row.group == group && row.what == what && row.solver == solver && !row.failed) curve.push_back(row);
      std::printf("| %s |", solver.c_str());
      for (const std::string& setting : settings) {
        const auto at = std::find_if(curve.begin(), curve.end(), [&](const Row& r) { return r.setting == setting; });
        if (at == curve.end())
          std::printf(" |");
        else
          std::printf(" %.2g Pa, %.0f us |", at->counters.at("error_pa"), at->time * 1e-3);
      }
      const std::optional<double> time = time_at(curve);
      if (solver == "own") own = time;
      if (time)
        std::printf(" %.0f us | ", *time * 1e-3);
      else
        std::printf(" - | ");
      if (time && own && solver != "own") std::printf("%.2f ", *own / *time);
      std::printf("|\n");
    }
  }
}

std::optional<double> time_at_goal(const std::vector<Row>& rows, const std::string& what, const std::string& solver) {
  std::vector<Row> curve;
  for (const Row& row : rows)
    if (row.group == "pull-down" && row.what == what && row.solver == solver && !row.failed) curve.push_back(row);
  return time_at(curve);
}

double exponent(const std::vector<Row>& rows, const std::string& group, const std::string& shape) {
  std::vector<Row> own;
  for (const Row& row : rows)
    if (row.group == group && row.solver == "own" && row.what.rfind(shape, 0) == 0 && !row.failed) own.push_back(row);
  if (own.size() < 2) return std::numeric_limits<double>::quiet_NaN();
  return std::log(own.back().time / own.front().time) /
         std::log(own.back().counters.at("elements") / own.front().counters.at("elements"));
}

void exponents(const std::vector<Row>& rows) {
  std::printf("\n## Growth\n\nTime goes as elements to this power, from the smallest to the largest line above.\n\n");
  std::printf("| shape | steady | transient |\n|---|---|---|\n");
  for (const std::string shape : {"tree", "chain", "mesh"}) {
    std::printf("| %s |", shape.c_str());
    for (const char* group : {"growth steady", "growth transient"}) {
      const double grows = exponent(rows, group, shape);
      if (std::isnan(grows))
        std::printf(" - |");
      else
        std::printf(" %.2f |", grows);
    }
    std::printf("\n");
  }
}

}  // namespace airtally::bench
