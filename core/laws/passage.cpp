#include "laws/passage.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "laws/friction.hpp"
#include "laws/inlet.hpp"
#include "laws/require.hpp"
#include "laws/root.hpp"

namespace airtally::laws {

namespace {

using gas::gamma;

constexpr double fanno = (gamma + 1.0) / gamma;

constexpr double shortest = 1e-3;  // length of a passage without length, in bores

/// Flow from the end of higher pressure; `p2` = 0 asks for the choked flow. The unknown is M1, which at small flow is
/// proportional to it, and the residual
///
///   F = G c g(Re) + N h ln(P1/P2) - (P1 - P2)(P1 + P2),   g = f Re, c = R T mu L/D^2, N = G^2 R T, h = (gamma+1)/gamma
///
/// serves choked and unchoked flow alike: P2 is the greater of what p2 gives and of sqrt(h N/2), the sonic exit. There
/// dF/dP2 = 0, so the slopes join smoothly.
class DownPassage {
 public:
  DownPassage(const Passage& passage, const Ends& ends, const gas::Air& air)
      : ends_(ends),
        entrance_(passage.entrance_loss),
        rt_(air.rt),
        sonic_(std::sqrt(gamma / air.rt)),
        c_(air.rt * air.viscosity * std::max(passage.length, shortest * passage.bore) / (passage.bore * passage.bore)),
        re_(passage.bore / air.viscosity),
        roughness_(passage.roughness / passage.bore),
        area_(0.25 * std::numbers::pi * passage.bore * passage.bore) {}

  Flow solve(double guess, double close) {
    // At no drop the root is 0 itself, which a search from a guess above would approach for ever.
    if (ends_.drop == 0.0) {
      residual(0.0);
      return flow(0.0);
    }
    // Few flows come near the inlet's own limit, which takes a search of its own to find.
    const double below_top = below_largest_mach(entrance_);
    const double start = guess > 0.0 ? mach_of(guess / area_, below_top) : std::min(first_guess(), below_top);
    const auto trial = [this](double m) { return residual(m); };
    double mach = rising_root(trial, below_top, start, close);
    if (mach < below_top) return flow(mach);
    const double top = largest_mach(entrance_);
    mach = rising_root(trial, top, below_top, close);
    if (mach < top) return flow(mach);
    // At the inlet's own limit the flow is p1 times a constant, whatever p2.
    const Inlet in = inlet_at(top, ends_.p1, entrance_, sonic_);
    return {area_ * in.flux, area_ * in.flux / ends_.p1, 0.0};
  }

 private:
  /// The flow at the root, from the state of the last trial, which lies within 1e-8 of it.
  Flow flow(double mach) const {
    const double flux = inlet_.flux + inlet_.d_flux * (mach - tried_);
    // At fixed M1 both G and P1 are proportional to p1.
    const double mach_by_p1 = -change(inlet_.flux / ends_.p1, inlet_.dense / ends_.p1) / slope_;
    return {area_ * flux, area_ * (flux / ends_.p1 + inlet_.d_flux * mach_by_p1),
            -area_ * inlet_.d_flux * by_p2() / slope_};
  }

  /// A Mach number from the sum of friction (laminar, or Blasius' where that is more) and velocity heads at the inlet's
  /// density, a parabola in G. That G is too great at high speed; taking all of p1 as static pressure makes up for it.
  double first_guess() const {
    const double p2 = std::max(ends_.p2, 0.5 * ends_.p1);
    const double rise = std::min(ends_.drop, 0.5 * ends_.p1) * (ends_.p1 + p2);
    const double heads = rt_ * (1.0 + entrance_);
    double flux = 0.0;
    double friction = 64.0;  // f Re
    for (int i = 0; i < 2; ++i) {
      const double linear = friction * c_;
      flux = 2.0 * rise / (linear + std::sqrt(linear * linear + 4.0 * heads * rise));
      const double re = flux * re_;
      if (re < 2000.0) break;
      const double root = std::sqrt(re);
      friction = 0.3164 * root * std::sqrt(root);
    }
    return flux / (ends_.p1 * sonic_);
  }

  /// The Mach number at which the inlet passes `flux`, roughly, by a few Newton steps held below `top`. They start from
  /// the inverse of the inlet's law G/(p1 sonic) = M (1 - b M^2 + ...), b = 3 a + K gamma/2.
  double mach_of(double flux, double top) const {
    const double slow = flux / (ends_.p1 * sonic_), bend = (3.0 * half_excess + 0.5 * gamma * entrance_) * slow * slow;
    double mach = std::min(slow * (1.0 + bend * (1.0 + 3.0 * bend)), top);
    for (int i = 0; i < 4 && mach < top && mach > 0.001; ++i) {
      const Inlet in = inlet_at(mach, ends_.p1, entrance_, sonic_);
      const double step = (flux - in.flux) / in.d_flux;
      mach = std::min(mach + step, top);
      if (std::abs(step) < 1e-4 * mach) break;  // the next would be its square
    }
    return mach;
  }

  Residual residual(double mach) {
    tried_ = mach;
    inlet_ = inlet_at(mach, ends_.p1, entrance_, sonic_);
    kinetic_ = inlet_.flux * inlet_.flux * rt_;
    const double by_pressure = 0.5 * (ends_.p2 + std::sqrt(ends_.p2 * ends_.p2 + 4.0 * half_excess * kinetic_ / gamma));
    const double by_sound = std::sqrt(0.5 * fanno * kinetic_);
    choked_ = by_sound > by_pressure;
    dense_ = choked_ ? by_sound : by_pressure;
    // P = p + a N/(gamma P) at both ends, so P1 - P2 follows from p1 - p2 without cancellation.
    const double stretch = 1.0 + half_excess * kinetic_ / (gamma * inlet_.dense * dense_);
    const double difference = choked_ ? inlet_.dense - dense_ : (ends_.drop - inlet_.loss) / stretch;
    friction_ = churchill(inlet_.flux * re_, roughness_);
    log_ratio_ = std::log1p(difference / dense_);
    slope_ = change(inlet_.d_flux, inlet_.d_dense);
    const double sum = inlet_.dense + dense_;
    const double value = inlet_.flux * c_ * friction_.g + kinetic_ * fanno * log_ratio_ - difference * sum;
    // But for compressibility the drop is the constant that friction and heads come up to.
    return {value, slope_, choked_ ? 0.0 : value + ends_.drop / stretch * sum};
  }

  /// dF for a change of G and P1, with p2 held.
  double change(double d_flux, double d_dense) const {
    const double d_kinetic = 2.0 * rt_ * inlet_.flux * d_flux;
    const double d_exit = choked_ ? 0.0 : half_excess * d_kinetic / (gamma * dense_ + half_excess * kinetic_ / dense_);
    return c_ * (friction_.g + inlet_.flux * re_ * friction_.dg_dre) * d_flux + fanno * log_ratio_ * d_kinetic +
           (kinetic_ * fanno / inlet_.dense - 2.0 * inlet_.dense) * d_dense -
           (kinetic_ * fanno / dense_ - 2.0 * dense_) * d_exit;
  }

  /// dF/dp2 at fixed M1.
  double by_p2() const {
    if (choked_) return 0.0;
    return (2.0 * dense_ - kinetic_ * fanno / dense_) / (1.0 + half_excess * kinetic_ / (gamma * dense_ * dense_));
  }

  Ends ends_;
  double entrance_;   // K
  double rt_;         // R T
  double sonic_;      // sqrt(gamma/(R T))
  double c_;          // R T mu L/D^2
  double re_;         // Re/G
  double roughness_;  // eps/D
  double area_;

  // At the Mach number tried last:
  double tried_ = 0.0;
  Inlet inlet_{};
  bool choked_ = false;
  double kinetic_ = 0.0;    // N = G^2 R T
  double dense_ = 0.0;      // P2
  double log_ratio_ = 0.0;  // ln(P1/P2)
  double slope_ = 0.0;      // dF/dM1
  Friction friction_{};
};

void require_passage(const Passage& passage) {
  require(passage.bore > 0.0 && passage.length >= 0.0 && passage.roughness >= 0.0 && passage.entrance_loss >= 0.0,
          "A passage needs a positive bore, and a length, roughness and entrance loss that are not negative.");
}

}  // namespace

Flow passage(const Passage& passage, const Ends& ends, const gas::Air& air, double guess, double close) {
  require_pressures(ends);
  require_passage(passage);
  if (ends.drop < 0.0) return reversed(DownPassage(passage, {ends.p2, ends.p1, -ends.drop}, air).solve(-guess, close));
  return DownPassage(passage, ends, air).solve(guess, close);
}

double choked_flow(const Passage& passage, double p1, const gas::Air& air) {
  require_pressures({p1, p1});
  require_passage(passage);
  return DownPassage(passage, {p1, 0.0}, air).solve(0.0, exactly).m;
}

}  // namespace airtally::laws
