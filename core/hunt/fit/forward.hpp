#pragma once
#include <memory>
#include <span>
#include <vector>

#include "hunt/beliefs/torn.hpp"
#include "hunt/beliefs/unknowns.hpp"
#include "hunt/readings/cut.hpp"
#include "laws/current_curve.hpp"
#include "solve/steady.hpp"

namespace airtally::hunt {

/// The path of the hole that an element's leak may have torn to: the last of its leaks. Where it has one.
int torn_path(const solve::Network& network, std::size_t element);

/// One line in one setting, ready to be solved again and again with other values of the unknowns.
///
/// The slopes of a reading are exact: with the node balances N(p, v) = 0 and the reading g(p, v), the implicit function
/// theorem gives dg/dv = g_v + (A^-T g_p) . N_v, A = -N_p, so one transposed solve of the factored slopes serves all
/// unknowns. Tested against finite differences by tests/hunt/forward_test.cpp.
class Rig {
 public:
  /// `suspects` must outlive the rig; `topology` is that of its line. Throws BadInput when the setting is no sound
  /// line.
  Rig(const Suspects& suspects, const line::Topology& topology, const Setting& setting)
      : Rig(suspects, cut(suspects.line, topology, setting)) {}
  /// The same from what is left of the line. Throws BadInput when that is no sound line.
  Rig(const Suspects& suspects, const Cut& here);

  /// Whether it has a drilled plate that is none of the unknowns, as nothing was read with it yet.
  bool has_new_plate() const { return new_plate_ >= 0; }
  /// Sets the factor on that one's flow [-] > 0, 1 before: plate_prior() is what to expect of it.
  void set_new_plate(double factor);
  /// Solves at the values of all unknowns; from the last solution if there is one. Throws NoConvergence, and
  /// DomainError for a value that no law takes.
  void solve(std::span<const double> values);
  /// Whether that element, an index into the whole line, is on the line in this setting.
  bool has(std::size_t element) const;
  /// What an instrument shows at the last solution, its systematic error included [Pa], [A] or [kg/s]. `at`: an element
  /// that is on the line. Throws DomainError where there is no such instrument.
  double read(Instrument instrument, std::size_t at, std::span<const double> values) const;
  /// d read/d value for every unknown into `out`, at the last solution; not after gain().
  void slopes(Instrument instrument, std::size_t at, std::span<const double> values, std::span<double> out);
  /// What the tips gain when all that is wrong with `element` is mended: its leaks gone, its way clear, a pump as good
  /// as its curve, a part that seals on it as the file has it. The largest gain of any tip [Pa] >= 0; solves from the
  /// last solution and leaves that as it is.
  double gain(std::size_t element, std::span<const double> values);
  /// The same where `element` is made as the file has it, and no better: Unknown::filed() of its leaks, its way and its
  /// wear, or what they are where that is better [Pa] >= 0.
  double excess(std::size_t element, std::span<const double> values);
  /// Vacuum of every tip on the line at the last solution [Pa]: at the mouth, behind the nozzle when open.
  std::vector<double> tips() const;

 private:
  bool concerns(std::size_t unknown) const;
  void apply(std::span<const double> values);
  void set(std::size_t unknown, double value);
  /// How a leak is made up of its own law and a hole's at this factor on it.
  Torn torn_at(double factor) const { return torn(factor, hole_share_); }
  /// What a reading changes by per flow along a path, of the adjoint in rhs_; 0 where nothing can flow.
  double weighed(int path) const;
  /// d N/d value of a path's flow [kg/s per its unit] at the last solution, for an unknown that the path is one of.
  double by_value(std::size_t unknown, int path) const;
  void solve_from(solve::Pressures& x);
  double gained(std::size_t element, std::span<const double> values, bool as_filed);
  std::size_t offset_of(Instrument instrument, std::size_t at) const;
  std::vector<double> tips_at(const solve::Pressures& x) const;

  const Suspects* suspects_;
  solve::Network network_;
  solve::Steady steady_;
  solve::Pressures x_, trial_;
  std::vector<double> at_;                    // values of the last solve()
  bool started_ = false;                      // x_ is a solution of some values
  bool solved_ = false;                       // x_ and the flows are those of at_
  solve::Elimination* factors_ = nullptr;     // of the last solve(), once slopes were asked for
  std::vector<std::vector<int>> paths_;       // per unknown: the paths that it scales, or whose bore
  int new_plate_ = -1;                        // path of a plate's hole that no unknown scales; -1
  std::vector<int> tears_;                    // per unknown: the path of the hole that a leak may be; -1
  std::size_t hole_share_at_ = line::none;    // which unknown that is
  double hole_share_ = 0.0;                   // as was last set
  std::vector<laws::Duct> filed_;             // per unknown: the path as filed, whose bore it scales
  std::vector<int> source_;                   // per unknown: the source that it wears; -1
  std::vector<std::size_t> index_;            // per element: its index here, or none
  std::vector<std::vector<std::size_t>> of_;  // per element: its leak, seal, way and wear, indices into the unknowns
  std::vector<int> tip_nodes_;
  std::vector<std::unique_ptr<laws::CurrentCurve>> currents_;  // per element
  std::vector<double> rhs_;
};

}  // namespace airtally::hunt
