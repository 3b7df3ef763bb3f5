#pragma once
#include <memory>
#include <vector>

#include "solve/evaluation.hpp"
#include "solve/network.hpp"
#include "solve/stiff_system.hpp"

namespace airtally::solve {

/// How the air in the line exchanges heat with its walls.
enum class Thermal {
  isothermal,  ///< it keeps the site's temperature
  adiabatic,   ///< not at all
  wall         ///< with walls at the site's temperature, h = Nu k/D with Nu = 3.66
};

/// A path that is being opened or closed: its factor runs linearly from one value to another.
struct Ramp {
  int path = 0;
  double begin = 0.0, end = 0.0;  ///< [s]
  double from = 0.0, to = 1.0;
};

/// A nozzle coming down: the gap of a path with the closing-gap law falls at constant speed until it is `least`.
struct Descent {
  int path = 0;
  double touch = 0.0;  ///< when the gap becomes `least` [s]
  double speed = 0.0;  ///< [m/s] > 0
  double least = 0.0;  ///< [m] > 0
  double most = 0.0;   ///< gap at which it started [m]
};

/// A line in motion. Owns a copy of its network, which may be changed between integrations (tips, valves, modes), never
/// during one; what moves during one is said by ramps and descents.
///
/// The last unknowns of the state count what has come in from outside since the start, so that the balance of the run
/// can be checked: content(x) - content(start) = brought_in(x), to rounding, whatever the step sizes.
class LineSystem : public StiffSystem {
 public:
  explicit LineSystem(Network network);

  Network& network() { return network_; }
  const Network& network() const { return network_; }
  /// Tells the system that its network was changed.
  virtual void changed();

  std::vector<Ramp> ramps;
  std::vector<Descent> descents;

  /// The state with these pressures and the site's temperature everywhere, nothing brought in yet.
  virtual std::vector<double> state(const Pressures& pressures) const = 0;
  /// Index of a node's pressure in the state.
  virtual std::size_t pressure_index(int node) const = 0;
  /// A node's temperature [K].
  virtual double temperature(std::span<const double> x, int node) const = 0;

  /// What the line holds, and what has come in on balance: mass [kg], and energy as mass at the site's temperature
  /// (m cv T/(cp T0)) [kg]; the energy is 0 in an isothermal run, whose walls supply whatever is needed.
  struct Account {
    double mass = 0.0;
    double energy = 0.0;
  };
  virtual Account content(std::span<const double> x) const = 0;
  virtual Account brought_in(std::span<const double> x) const = 0;

  bool moves(double begin, double end) const override;
  std::size_t evaluations() const { return evaluations_; }

 protected:
  /// Sets every moving path to its state at time t.
  void drive(double t);

  Network network_;
  double least_ = 0.0;  ///< a pressure safely below any that can occur [Pa]
  double short_ = 0.0;
  std::size_t evaluations_ = 0;
};

std::unique_ptr<LineSystem> line_system(Network network, Thermal thermal);

}  // namespace airtally::solve
