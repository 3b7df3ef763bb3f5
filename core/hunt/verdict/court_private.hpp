#pragma once
#include <optional>
#include <vector>

#include "hunt/verdict/rivals.hpp"
#include "hunt/verdict/trial_private.hpp"
#include "hunt/verdict/worst.hpp"

namespace airtally::hunt {

/// What all trials share: the line, who is blamed, and the states that they start from.
struct Case {
  const Suspects& suspects;
  std::size_t blamed = 0;
  Fit best;                      ///< with the blamed at fault
  double cost = 0.0;             ///< what the blamed then costs the tips [Pa]
  double excess = 0.0;           ///< and beyond what it would as the file has it [Pa]
  double tip_vacuum = 0.0;       ///< the best tip's [Pa]
  bool ordinary = true;          ///< it costs little, or that without a fault: as the file, or common practice, has it
  double leak = 0.0;             ///< and leaks [kg/s]
  std::vector<double> cleared;   ///< the line as it was found, but for the blamed being sound
  std::vector<double> filed;     ///< the line as it was found, but for the blamed being as the file has it
  std::vector<double> healthy;   ///< nothing wrong with anything but what the blamed has merely worn
  std::vector<double> design;    ///< what each element costs the tips then, as a joint's clearance does [Pa]
  std::vector<std::size_t> its;  ///< unknowns that are the blamed's faults
};

/// With the blamed fitted as the culprit from the first three `modes`, at least one.
Case case_of(const Suspects& suspects, Evidence& evidence, TipCosts& costs, const std::vector<Mode>& modes,
             std::size_t blamed);

/// Tries one element after the other as the culprit.
class Court {
 public:
  /// All must outlive it.
  Court(const Case& its_case, Evidence& evidence, TipCosts& costs)
      : case_(its_case), evidence_(&evidence), costs_(&costs) {}

  /// Rival::worse stays at `parted` when that element can't have done it.
  Rival tried(std::size_t element);
  /// The same with the blamed as it is, where nothing is wrong with it.
  Rival tried_beside(std::size_t element);

 private:
  void take(const Trial& trial, const Fit& fit, double more, Rival& rival);
  void as_costly(Trial& trial, std::size_t k, Rival& rival);
  bool takes_another(const std::vector<double>& z, std::size_t k) const;
  void beside(std::size_t k, Rival& rival);
  void take_held(Trial& trial, std::vector<double> start, std::size_t k, double z, double likely, Rival& rival,
                 bool by_itself = false);
  bool alone_in(const std::vector<double>& z, std::size_t element);
  bool amiss_alone(const std::vector<double>& z, std::size_t element);

  const Case& case_;
  Evidence* evidence_;
  TipCosts* costs_;
};

}  // namespace airtally::hunt
