#pragma once
#include <span>
#include <vector>

#include "line/line.hpp"
#include "line/topology.hpp"
#include "solve/network.hpp"
#include "solve/steady.hpp"

namespace airtally::solve {

/// One element at rest. Vacuum is below the site's ambient; flows run from the tip towards the pump.
struct ElementState {
  std::size_t element = 0;  ///< index into the line
  double pressure = 0.0;    ///< at its tip-side end [Pa, absolute]; of an open nozzle the ambient
  double vacuum = 0.0;      ///< at its tip-side end [Pa]
  double flow = 0.0;        ///< at its pump-side end, below 0: away from the pump [kg/s]; for a source, what it takes
  double drop = 0.0;        ///< across it, from the tip to the pump [Pa]; 0 for sources and places
  double leak = 0.0;        ///< all its leaks, below 0: outwards [kg/s]; 0 at the mouth of an open nozzle
};

/// One nozzle at rest.
struct Tip {
  std::size_t element = 0;          ///< index into the line
  TipState state = TipState::open;  ///< in which it was solved
  double vacuum = 0.0;              ///< behind the nozzle, at its pump-side end [Pa]
  double mouth_vacuum = 0.0;        ///< on the part: between passage and part [Pa]; 0 when open
  double flow = 0.0;                ///< through the nozzle, towards the pump [kg/s]
  /// What "tip vacuum" means in sentences [Pa]: at the mouth with a part or blocked, behind the nozzle when open. Those
  /// are two places, so the numbers of two states say nothing when compared: an open tip can seem the deeper one.
  double tip_vacuum() const { return state == TipState::open ? vacuum : mouth_vacuum; }
};

/// One source at rest.
struct SourceState {
  std::size_t element = 0;  ///< index into the line
  double vacuum = 0.0;      ///< at its inlet [Pa]
  double flow = 0.0;        ///< taken [kg/s] >= 0
};

/// A line at rest.
struct SteadyAnswer {
  std::vector<ElementState> elements;  ///< in line order
  std::vector<Tip> tips;               ///< in line order
  std::vector<SourceState> sources;    ///< in line order
  double ambient = 0.0;                ///< of the site [Pa, absolute]
  SteadyReport report;                 ///< how the solve went
};

/// Reads the answer off a solved network. `evaluation` is the one at `pressures`. Flows below 1e-15 of the sources'
/// free flow count as none.
SteadyAnswer read_off(const line::Line& line, const line::Topology& topology, const Network& network,
                      const Pressures& pressures, const Evaluation& evaluation, const SteadyReport& report);

/// The whole of it: checks the line, compiles, solves and reads off. `tips`: one state per nozzle in line order; those
/// left out are open. Throws BadInput for what does not hang together and for a part that the line has not, DomainError
/// for values that no law takes, NoConvergence.
SteadyAnswer steady(const line::Line& line, std::span<const TipState> tips);

/// The state that a line's tips have unless something else is asked: with the part if the file has one that closes the
/// mouth (line/seat.hpp), else open.
std::vector<TipState> usual_tips(const line::Line& line);
/// One state for all nozzles of the line.
std::vector<TipState> all_tips(const line::Line& line, TipState state);

}  // namespace airtally::solve
