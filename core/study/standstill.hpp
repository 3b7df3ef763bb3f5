#pragma once
#include <vector>

#include "line/line.hpp"
#include "solve/network.hpp"

namespace airtally::study {

/// What a source lets back in while it stands still, where the line file does not say so by a `back-leak`.
enum class WayBack {
  shut,  ///< nothing, as a pump's valves that are tight
  open   ///< as much as comes in by an open port, as by an ejector's exhaust
};

/// Stops and starts the sources of a network. One that stands still takes no air and lets some back in.
class Standstill {
 public:
  /// Adds to `network`, which is that of `line`, each source's way back, shut while it runs: every one that the file
  /// states, and, where `unstated` has it so, an open port for each source that has none. One that lets nothing back
  /// gets a dead space of 10 uL at least. The network may be copied afterwards.
  Standstill(const line::Line& line, solve::Network& network, WayBack unstated = WayBack::shut);

  /// Lets all of them run, or stop.
  void run(solve::Network& network, bool on) const;

 private:
  std::vector<int> ways_back_;  ///< paths
};

}  // namespace airtally::study
