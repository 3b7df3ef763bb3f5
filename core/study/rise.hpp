#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/answer.hpp"
#include "solve/line_system.hpp"
#include "study/inertia.hpp"

namespace airtally::study {

/// A tip that comes to less than this [Pa] has nothing to settle to.
inline constexpr double least_vacuum = 1.0;

/// A tip has settled within this of its steady vacuum [-].
inline constexpr double settle_band = 0.05;

/// Pieces that long tubes are cut into where many lines are timed.
inline constexpr int few_pieces = 2;

/// Pull-down of one tip.
struct TipRise {
  std::size_t element = 0;    ///< index into the line
  double settle = 0.0;        ///< last entry into the 5 % band around the steady vacuum [s]; 0 where that is below 1 Pa
  double final_vacuum = 0.0;  ///< of the steady solve [Pa]
};

/// All places at one moment.
struct RiseSample {
  double time = 0.0;           ///< [s]
  std::vector<double> vacuum;  ///< per watched place, in the order of Rise::places [Pa]
};

/// A pull-down from ambient.
struct Rise {
  std::vector<std::size_t> places;    ///< elements whose vacuum is sampled: tips unless others were asked for
  std::vector<TipRise> tips;          ///< in line order
  double settle = 0.0;                ///< of the slowest tip [s]
  double final_vacuum = 0.0;          ///< of the slowest tip [Pa]
  std::vector<RiseSample> samples;    ///< in time order
  int segments = 1;                   ///< pieces that each long tube was cut into
  Inertia inertia;                    ///< what the answer leaves out
  std::vector<std::string> warnings;  ///< where what is left out matters, a sentence each
  double worst_balance = 0.0;   ///< mass or energy unaccounted for over the run, relative to what the line held [-]
  std::size_t steps = 0;        ///< of the last integration, accepted
  std::size_t evaluations = 0;  ///< of all flows, over all numbers of segments
};

/// How a pull-down is computed.
struct RiseOptions {
  std::vector<std::size_t> at;                    ///< elements to sample; empty: every tip
  std::size_t samples = 121;                      ///< number of samples, evenly spread over twice the settle time
  double relative = 1e-6;                         ///< accuracy of a step, of the unknown [-]
  double absolute = 0.05;                         ///< and absolute [Pa]
  solve::Thermal thermal = solve::Thermal::wall;  ///< how air and walls exchange heat
  int segments = 0;                ///< pieces that each long tube is cut into; 0: as many as it takes, 64 at most
  std::vector<double> times = {};  ///< to sample at, instead of `samples` evenly spread [s]
};

/// Everything at ambient, pumps at full speed and valves open at t = 0. Tubes are cut into segments until the settle
/// time changes by less than 0.5 %. `tips`: one state per nozzle. Throws BadInput, NoConvergence.
Rise rise(const line::Line& line, std::span<const solve::TipState> tips, const RiseOptions& options = {});

/// The two times that a change of the line is judged by.
struct Timing {
  /// Last entry of the tip into the 5 % band around its own final vacuum [s]; 0 where that is below 1 Pa.
  double settle = 0.0;
  std::optional<double> reach;  ///< first moment at which the tip has the vacuum asked for [s]; none when it never has
};

/// One pull-down at a fixed number of segments, watched at the tip of nozzle `nozzle` (an index into the nozzles).
/// `vacuum` [Pa]: what `reach` waits for. Both times are right to 2e-4 of what an exact integration would give. Throws
/// BadInput, NoConvergence. Tested by tests/study/rise_test.cpp.
Timing timing(const line::Line& line, std::span<const solve::TipState> tips, std::size_t nozzle, double vacuum,
              int segments, solve::Thermal thermal = solve::Thermal::wall);

}  // namespace airtally::study
