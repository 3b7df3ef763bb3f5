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
  int path = 0;        ///< index into the network's paths
  double begin = 0.0,  ///< when it starts to move [s]
      end = 0.0;       ///< when it has moved [s]; not after `begin`: at once
  double from = 0.0,   ///< factor on the path's flow before [-] >= 0
      to = 1.0;        ///< and after [-] >= 0
};

/// A nozzle coming down: the face gap of a path falls at constant speed until it is `least`.
struct Descent {
  int path = 0;        ///< index into the network's paths; its law is a laws::FaceGap
  double touch = 0.0;  ///< when the gap becomes `least` [s]
  double speed = 0.0;  ///< [m/s] > 0
  double least = 0.0;  ///< [m] > 0
  double most = 0.0;   ///< gap at which it started [m] >= least
};

/// How close the laws that iterate must come (laws/flow.hpp) for steps whose relative error is `relative` [-] > 0. Its
/// square, which is what that leaves of a flow, is a ten-thousandth of what a step may be off by.
double closeness_for(double relative);

/// A line in motion. Owns a copy of its network, which may be changed between integrations (tips, valves, modes), never
/// during one; what moves during one is said by ramps and descents.
///
/// The last unknowns of the state count what has come in from outside since the start, so that the balance of the run
/// can be checked: content(x) - content(start) = brought_in(x), to rounding, whatever the step sizes.
class LineSystem : public StiffSystem {
 public:
  /// The line as it is; nothing moves until ramps or descents are added.
  explicit LineSystem(Network network);

  /// The network, to be changed between integrations; call changed() afterwards.
  Network& network() { return network_; }
  /// The network as it is now.
  const Network& network() const { return network_; }
  /// Tells the system that its network was changed.
  virtual void changed();

  std::vector<Ramp> ramps;        ///< paths that are being opened or closed
  std::vector<Descent> descents;  ///< nozzles that come down

  /// The state [Pa] with these pressures and the site's temperature everywhere, nothing brought in yet.
  virtual std::vector<double> state(const Pressures& pressures) const = 0;
  /// Index of a node's pressure [Pa] in the state.
  virtual std::size_t pressure_index(int node) const = 0;
  /// A node's temperature [K] in the state `x`.
  virtual double temperature(std::span<const double> x, int node) const = 0;

  /// An amount of air and of its energy.
  struct Account {
    double mass = 0.0;  ///< [kg]
    /// As mass at the site's temperature, m cv T/(cp T0) [kg]; 0 in an isothermal run: the walls supply it.
    double energy = 0.0;
  };
  /// What the line holds in the state `x`.
  virtual Account content(std::span<const double> x) const = 0;
  /// What has come in from outside on balance until the state `x`, heat from the walls included.
  virtual Account brought_in(std::span<const double> x) const = 0;

  bool moves(double begin, double end) const override;
  void needs(double relative) override;
  /// How often the rates were evaluated since it was made.
  std::size_t evaluations() const { return evaluations_; }

 protected:
  /// Sets every moving path to its state at time t [s].
  void drive(double t);

  Network network_;               ///< what is in motion
  double least_ = 0.0;            ///< a pressure safely below any that can occur [Pa]
  double short_ = 0.0;            ///< stands for a restriction that is gone [kg/(s Pa)]
  double close_ = laws::exactly;  ///< how close the laws that iterate come (laws/flow.hpp)
  std::size_t evaluations_ = 0;   ///< as evaluations() gives it
};

/// The system for that way of exchanging heat; never null.
std::unique_ptr<LineSystem> line_system(Network network, Thermal thermal);

}  // namespace airtally::solve
