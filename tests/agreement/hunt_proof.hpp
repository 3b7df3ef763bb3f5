#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "line/line.hpp"

/// Simulated hunts: a truth is planted in a line, KINSOL solves it, readings are taken with the gauge's errors, and the
/// hunt is asked.
namespace airtally::agreement {

/// Simulation-based calibration (Talts and others, arXiv:1804.06788): with truths drawn from the prior, the share of
/// the posterior below the truth must be uniform.
struct Calibration {
  static constexpr int bins = 8;
  struct Quantity {
    std::string name;
    std::vector<int> histogram;  ///< of the ranks, `bins` of them
    double chi_square = 0.0;     ///< of flatness, bins - 1 degrees of freedom
    int inside = 0;              ///< truths within the central 90 %
  };
  std::vector<Quantity> quantities;
  int cases = 0;
  int unsolved = 0;                 ///< truths that KINSOL did not solve
  int doubtful = 0;                 ///< hunts that said themselves that they had not converged
  std::vector<std::string> doubts;  ///< one sentence for each of those
  double coverage = 0.0;
  double worst_chi_square = 0.0;
  double median_effective = 0.0, median_efficiency = 0.0, median_evaluations = 0.0;
  double seconds = 0.0;  ///< of processor time per hunt, peaks and sampling
  double seconds_of_peaks = 0.0;
};

/// Each case reads six settings drawn at random, at every instrument on the line. Case number c of a seed is the same
/// whatever the `first` and the count.
Calibration calibrate(const line::Line& line, int cases, std::uint64_t seed, int first = 0);
std::string text(const Calibration& calibration);

/// Leaks and blockages planted at the elements of every invented line.
struct Planted {
  int cases = 0;
  int first = 0;                 ///< culprit ranked first
  int alike = 0;                 ///< not first, but named among the look-alikes of the first
  int told_apart = 0;            ///< cases without a twin: no other element's fault would give the same readings
  int first_told_apart = 0;      ///< of those: culprit first
  double expected_first = 0.0;   ///< right ones, by what the hunts themselves gave their first elements
  int first_or_twin = 0;         ///< culprit first, or an element that no one could tell from it
  int sizes = 0, inside = 0;     ///< planted sizes, and those within the stated 90 %
  int sure = 0, sure_right = 0;  ///< verdicts at 95 %
  int sure_or_twin = 0;          ///< of those: right, or of a twin
  std::vector<int> tests;        ///< with advice: how often the line was touched until the verdict
  std::vector<int> joints;       ///< joints undone for them
  std::vector<int> readings;     ///< numbers read until then
  double seconds = 0.0;
  std::vector<std::string> misses;
};
struct Planting {
  int cases = 500;
  std::uint64_t seed = 1;
  int first = 0;  ///< number of the first case
  /// Readings as the hunt asks for them, until it is sure or knows of no further test; else every setting is read.
  bool by_advice = false;
  bool gauge_at_source = false;  ///< a gauge that no cap takes off the line, where the line has none
  bool plug_gauge = false;       ///< a loose gauge is at hand, too
  std::string lines;             ///< names of the invented lines to plant at, with blanks between; empty: all
};
/// `seen` is told the state of things after each case.
Planted plant(const Planting& how, const std::function<void(const Planted&)>& seen = {});
std::string text(const Planted& planted);

}  // namespace airtally::agreement
