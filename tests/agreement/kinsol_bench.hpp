#pragma once
#include <memory>
#include <vector>

#include "hunt/beliefs/unknowns.hpp"
#include "study/random.hpp"

/// Readings for the proof of the hunt, taken from a line that SUNDIALS' KINSOL solves. Nothing of the fit's code is in
/// them but the network and its laws: not its solver, nor how it puts the unknowns into a line, nor how it reads.
namespace airtally::agreement {

/// A line with everything about it known: a value for each unknown of `suspects`.
class KinsolBench {
 public:
  KinsolBench(const hunt::Suspects& suspects, const hunt::Bench& bench, std::vector<double> values);
  ~KinsolBench();
  KinsolBench(const KinsolBench&) = delete;
  KinsolBench& operator=(const KinsolBench&) = delete;

  /// What the instrument would show on the average, its systematic error included. The last solved setting is kept.
  double exact(const hunt::Setting& setting, hunt::Instrument instrument, std::size_t at);
  /// One reading of it: with what doesn't repeat, rounded to the display's step.
  hunt::Reading read(const hunt::Setting& setting, hunt::Instrument instrument, std::size_t at, study::Random& random);
  /// Vacuum of each tip that is on the line in `setting` [Pa]: at the mouth, behind the nozzle when open.
  std::vector<double> tips(const hunt::Setting& setting);

 private:
  struct Solved;
  Solved& at(const hunt::Setting& setting);

  const hunt::Suspects& suspects_;
  const hunt::Bench& bench_;
  std::vector<double> values_;
  std::unique_ptr<Solved> solved_;
};

/// A standard normal number (Box and Muller 1958).
double normal(study::Random& random);

/// Every setting of the removal test: each element behind which the line can be capped, with a blind cap and with a
/// plate, and the tips open, with the part, and blocked.
std::vector<hunt::Setting> all_settings(const line::Line& line, double hole);

/// Every instrument of the line that is on it in `setting`: its gauges, and the ammeters of its sources.
std::vector<std::pair<hunt::Instrument, std::size_t>> instruments(const line::Line& line, const hunt::Setting& setting);

}  // namespace airtally::agreement
