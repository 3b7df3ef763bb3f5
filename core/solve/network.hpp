#pragma once
#include <memory>
#include <span>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "gas/air.hpp"
#include "laws/conductance.hpp"
#include "laws/duct.hpp"
#include "laws/passage.hpp"
#include "laws/pump_curve.hpp"
#include "laws/rated.hpp"
#include "laws/slot.hpp"
#include "line/line.hpp"
#include "line/topology.hpp"

namespace airtally::solve {

/// The end of a path that lies outside the line.
inline constexpr int outside = -1;

/// A check valve: a conductance that passes air one way, a to b, once the drop exceeds `cracking` [Pa].
struct OneWay {
  laws::Conductance path;  ///< what it passes once it is open
  double cracking = 0.0;   ///< [Pa] >= 0
};

/// The law of a path with its numbers.
using Law =
    std::variant<laws::Duct, laws::Passage, laws::Conductance, laws::Clearance, laws::FaceGap, laws::Rated, OneWay>;

/// What a path is to its element.
enum class Role {
  restriction,  ///< what the element itself is
  leak,         ///< one of the element's leaks
  seal,         ///< what the part on a tip lets through
  vent,         ///< a valve's release port
  sensor        ///< the small tube to a gauge
};
/// Whether a path takes part.
enum class Mode {
  active,  ///< by its law
  closed,  ///< no flow
  shorted  ///< as good as no restriction: Evaluation::short_conductance()
};

/// A way for air from place a to place b. Restrictions run from the tip towards the pump, everything else from outside
/// in.
struct Path {
  int a = outside;                ///< node that its flow counts from, or `outside`
  int b = outside;                ///< node that its flow counts to, or `outside`
  double outside_pressure = 0.0;  ///< at the end that is `outside` [Pa, absolute]
  Law law;                        ///< its flow from a to b
  Role role = Role::restriction;  ///< what it is to its element
  std::size_t element = 0;        ///< index into the line
  Mode mode = Mode::active;       ///< whether it takes part now
  Mode at_rest = Mode::active;    ///< the mode that the line file and the tips give it, before anything is taken away
  double scale = 1.0;  ///< factor on the law's flow [-] >= 0: a valve partly open, a blockage, a leak of another size
};

/// A place where air has one pressure.
struct Node {
  double volume = 0.0;      ///< [m3] >= 0
  double exchange = 0.0;    ///< sum of 3.66 (wall area)/(width) [m] >= 0: wall exchange per unit conductivity of air
  std::size_t element = 0;  ///< an element to name in complaints
};

/// A source as it is: its curve, and how far it has worn from it.
struct Source {
  int node = 0;                ///< where it draws
  laws::PumpCurve curve;       ///< as it is when new, at the site
  std::size_t element = 0;     ///< index into the line
  double ambient = 0.0;        ///< of the site [Pa, absolute]
  double flow_factor = 1.0;    ///< on the flow at every vacuum [-] >= 0; 0 only in a transient, while it stands still
  double vacuum_factor = 1.0;  ///< on the vacuum axis [-] > 0; the ultimate pressure must stay positive

  /// Flow out of the line [kg/s] at inlet pressure `p` + `low` [Pa], with its slope; `low` is what `p` rounds away.
  laws::PumpFlow at(double p, double low = 0.0) const;
  /// Lowest pressure it can pull [Pa, absolute].
  double ultimate() const { return vacuum_factor == 1.0 ? curve.ultimate() : on_inlet(curve.ultimate()); }
  /// Flow with nothing connected [kg/s] >= 0.
  double free_flow() const { return flow_factor * curve.free_flow(); }
  /// Inlet pressure at which the unworn curve is read for `p` [Pa, absolute].
  double on_curve(double p) const { return vacuum_factor == 1.0 ? p : ambient - (ambient - p) / vacuum_factor; }
  /// The way back: inlet pressure [Pa, absolute] for `p` on the unworn curve.
  double on_inlet(double p) const { return ambient - vacuum_factor * (ambient - p); }
};

/// What is on a nozzle's mouth.
enum class TipState {
  open,    ///< nothing: the room's air comes in
  part,    ///< the part, by its gap and its porosity
  blocked  ///< a perfect seal; only the nozzle's own leaks are left
};

/// A line made ready for solving: nodes, paths, sources, and which tip is in which state.
///
/// Node i < places is the line's place i (a nozzle's place is its mouth); behind them come the inner nodes of tubes
/// that are cut into segments. Cheap to make (microseconds for a line of a dozen elements), cheap to copy.
class Network {
 public:
  /// `tips`: one state per nozzle, in line order. `segments`: one count per element, empty for 1 each.
  /// `topology` is that of the line. Tips left out are open. Throws BadInput when a tip is to carry a part and the line
  /// has none, DomainError for values that no law takes.
  Network(const line::Line& line, const line::Topology& topology, std::span<const TipState> tips,
          std::span<const int> segments = {});

  std::vector<Node> nodes;                 ///< places first, then inner nodes
  std::vector<Path> paths;                 ///< element by element
  std::vector<Source> sources;             ///< in line order
  std::vector<std::size_t> nozzles;        ///< element index per nozzle
  std::vector<std::vector<int>> paths_of;  ///< per element: its paths, restriction first, in order from the tip
  std::vector<int> node_of;                ///< per element: node at its tip-side end
  std::shared_ptr<const std::vector<std::string>> names;  ///< per element, for complaints
  std::vector<int> gauge_node;  ///< per element: the node that its gauge feels; node_of without a tube of its own
  double ambient = 0.0;         ///< of the site [Pa, absolute]
  gas::Air air{};               ///< at the site's temperature
  std::vector<TipState> tips;   ///< per nozzle; changed by set_tip()

  /// Pairs of different nodes between which air may ever flow, whatever the tips do; a pair may come twice.
  std::vector<std::pair<int, int>> pairs() const;
  /// Per node: whether paths that are not closed connect it to a source; the rest has no defined pressure and is left
  /// alone.
  std::vector<bool> fed() const;
  /// Lowest and highest pressure that anything connected can impose [Pa, absolute].
  std::pair<double, double> bounds() const;
  /// Sum of the sources' free flows [kg/s], those that stand still counted as if they ran: a scale for flows.
  double free_flow() const;

  /// Puts nozzle `nozzle` (an index into the nozzles) into that state; `part` only where the line has one.
  void set_tip(std::size_t nozzle, TipState state);
  /// Takes away (or gives back) an element's leaks.
  void set_leak(std::size_t element, bool present);
  /// Takes away (or gives back) an element's restriction.
  void set_restriction(std::size_t element, bool present);

 private:
  void add_restriction(const line::Line& line, const line::Topology& topology, std::size_t i, int segments);
  void add_bore(const line::Line& line, const line::Topology& topology, std::size_t i, const line::Bore& bore,
                int segments);
  void add_iso(const line::Element& e, std::size_t i, const line::Iso& path, int tip, int pump);
  void add_path(std::size_t element, int a, int b, const Law& law, Mode mode = Mode::active,
                Role role = Role::restriction);
  void add_leaks(const line::Line& line, std::size_t i);
  void add_nozzle(const line::Line& line, std::size_t i);
  void add_gauge(const line::Line& line, std::size_t i);
  void add_volume(int node, double volume);
  void add_wall(int node, double area, double width);
};

}  // namespace airtally::solve
