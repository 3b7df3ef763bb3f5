#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "solve/line_system.hpp"
#include "study/cycle_run.hpp"
#include "study/standstill.hpp"

namespace airtally::study {

/// Plays events on a line, between integrations, cycle by cycle. Each stretch between two events is integrated from 0,
/// so that neither the steps nor their digits depend on how late in the schedule it comes.
class Player {
 public:
  /// At rest before the first event: valves closed, tips open, pump on, or everything at ambient. `line` and `plan`
  /// must live on.
  Player(const line::Line& line, const line::Topology& topology, const Plan& plan, const CycleOptions& options);

  /// The line between two stretches.
  struct Still {
    std::vector<double> x;                 ///< the state [Pa]
    solve::Network network;                ///< with its valves, tips and sources as they are
    std::vector<solve::Ramp> ramps;        ///< still going on, from now [s]
    std::vector<solve::Descent> descents;  ///< still going on, from now [s]
  };
  /// The line as it is now.
  Still still() const;
  /// Puts it back to `still`, but with the state `x`.
  void back_to(const Still& still, std::vector<double> x);

  /// Plays the events of the cycle `turn` up to `to` [s] after its begin. What happens is added to `run`, at times that
  /// count from `from` [s] on; nullptr: to nothing.
  void play(int turn, double to, CycleRun* run, double from);

  /// A run without any steps yet.
  CycleRun blank() const;
  /// The line in motion.
  const solve::LineSystem& system() const { return *system_; }

 private:
  /// Paths of one head that the schedule moves.
  struct HeadPaths {
    int valve = -1;  ///< the valve's way to the pump
    int vent = -1;
    int closing = -1;  ///< the gap under the nozzle while it comes down
  };

  std::size_t index(int node) const { return system_->pressure_index(node); }
  void prepare(solve::Network& network);
  void open_tip(std::size_t head);
  void ramp(int path, double to, double duration);
  void apply(const PlannedEvent& event);
  void integrate(CycleRun* run, double length, double from, double clock);

  const line::Line& line_;
  const Plan& plan_;
  CycleOptions options_;
  std::vector<HeadPaths> paths_;
  std::optional<Standstill> standstill_;  ///< unless the pumps run all the time
  std::unique_ptr<solve::LineSystem> system_;
  std::vector<double> x_;
  bool changed_ = true;
};

}  // namespace airtally::study
