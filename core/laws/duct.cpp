#include "laws/duct.hpp"

#include <cmath>
#include <numbers>

#include "laws/friction.hpp"
#include "laws/require.hpp"
#include "laws/root.hpp"

namespace airtally::laws {

namespace {

/// Flow from the end of higher pressure. With G = m/A >= 0 and g = f Re the law is F(G, pe) = 0,
///
///   F = G c g(Re, Kn) + G^2 R T (K + 2 ln(p1/pe)) - (p1 - pe)(p1 + pe),   c = R T mu L/D^2
///
/// with pe the pressure at the exit: p2, or, when p2 is lower, the pressure at which dF/dpe = 0. There the flow is
/// largest, which is what choking means; and since dF/dpe = 0 the slopes need no dpe/dG and dm/dp2 is exactly 0.
class DownDuct {
 public:
  DownDuct(const Duct& duct, double loss, const Ends& ends, const gas::Air& air)
      : ends_(ends),
        loss_(loss),
        rt_(air.rt),
        c_(air.rt * air.viscosity * duct.length / (duct.bore * duct.bore)),
        re_(duct.bore / air.viscosity),
        kn_(2.0 * air.slip / duct.bore),
        duct_(duct),
        area_(0.25 * std::numbers::pi * duct.bore * duct.bore) {}

  Flow solve(double guess, double close) {
    set_exit(ends_.p2, ends_.drop);
    double start = std::max(guess / area_, 0.0);
    // Bounds that hold for every exit pressure: friction at least laminar, and sonic-like speed G sqrt(R T) = p1.
    const double viscous = ends_.p1 * (ends_.p1 + 8.0 * kn_) / (64.0 * c_);
    const double top = std::min(viscous, ends_.p1 / std::sqrt(rt_));
    // What was well out of the laminar regime, and can still be, is not looked for there first.
    const double by_friction = ends_.drop * sum_ / (64.0 * c_);
    if (!(std::min(start, by_friction) * re_ > 2.0 * surely_laminar)) {
      const double laminar = laminar_flux();
      // G sqrt(R T) bounds the choking pressure from above, so at or below p2 there is no choking to look for.
      if (laminar * re_ * (1.0 + 8.0 * knudsen_) < surely_laminar && laminar * laminar * rt_ <= ends_.p2 * ends_.p2)
        return flow(laminar);
      if (start == 0.0) start = first_guess(std::min(laminar, top));
    }
    roughness_ = duct_.roughness / duct_.bore;
    return flow(rising_root([this](double flux) { return residual(flux); }, top, start, close));
  }

  /// dm/dD after solve(), which found the flow `m`.
  double by_bore(double m) const {
    const double flux = m / area_, re = flux * re_;
    // c/D^2 and the slopes of g by D, all times D.
    const double by_bore = -2.0 * friction_.g + friction_.dg_dre * re - friction_.dg_dkn * knudsen_ - friction_.dg_dlne;
    return (2.0 * m - area_ * flux * c_ * by_bore / slope_) / duct_.bore;
  }

 private:
  /// Exact while the flow is laminar and not choked: F is then a parabola in G. Leaves the state that flow() needs.
  double laminar_flux() {
    const double g = 64.0 / (1.0 + 8.0 * knudsen_);
    friction_ = {g, 0.0, -0.125 * g * g, 0.0};
    const double linear = c_ * friction_.g;
    const double quadratic = rt_ * (loss_ + 2.0 * log_ratio_);
    const double rise = ends_.drop * sum_;
    const double root = std::sqrt(linear * linear + 4.0 * quadratic * rise);
    slope_ = root;
    return 2.0 * rise / (linear + root);
  }

  /// A start within a few per cent in turbulent flow: Blasius' friction factor, a few times at the flow it gave before.
  double first_guess(double laminar) const {
    double flux = laminar;
    for (int i = 0; i < 3 && flux * re_ > 2000.0; ++i) {
      const double friction = 0.3164 / std::sqrt(std::sqrt(flux * re_));
      const double heads = friction * (duct_.length / duct_.bore) + loss_ + 2.0 * log_ratio_;
      flux = std::min(laminar, std::sqrt(ends_.drop * sum_ / (rt_ * heads)));
    }
    return flux;
  }

  Residual residual(double flux) {
    const bool was_choked = choked_;
    choked_ = false;
    if (flux * flux * rt_ > ends_.p2 * ends_.p2) {
      const double limit = std::min(choking_pressure(flux), ends_.p1);
      choked_ = limit > ends_.p2;
      if (choked_) set_exit(limit, ends_.p1 - limit);
    }
    if (was_choked && !choked_) set_exit(ends_.p2, ends_.drop);  // solve() has set it for the first trial
    const double re = flux * re_;
    friction_ = churchill(re, roughness_, knudsen_);
    const double inertia = flux * rt_ * (loss_ + 2.0 * log_ratio_);
    slope_ = c_ * (friction_.g + re * friction_.dg_dre) + 2.0 * inertia;
    const double level = flux * (c_ * friction_.g + inertia);
    return {level - drop_ * sum_, slope_, choked_ ? 0.0 : level};
  }

  /// The pe at which dF/dpe = 2 pe - 2 G^2 R T/pe + 2 t = 0, where 2 t is the change of the slip factor with the mean
  /// pressure: pe^2 + pe t = G^2 R T, by repeated substitution. An error here enters the flow squared.
  double choking_pressure(double flux) const {
    const double kinetic = flux * flux * rt_;
    double pe = std::sqrt(kinetic);
    for (int i = 0; i < 60; ++i) {
      const double sum = ends_.p1 + pe;
      const double t = -0.5 * flux * c_ * churchill(flux * re_, roughness_, kn_ / sum).dg_dkn * kn_ / (sum * sum);
      const double next = 2.0 * kinetic / (t + std::sqrt(t * t + 4.0 * kinetic));
      const bool settled = std::abs(next - pe) <= 1e-10 * pe;
      pe = next;
      if (settled) break;
    }
    return pe;
  }

  void set_exit(double pressure, double drop) {
    exit_ = pressure;
    drop_ = drop;
    sum_ = ends_.p1 + pressure;
    knudsen_ = kn_ / sum_;
    log_ratio_ = std::log1p(drop / pressure);
  }

  /// The flow at the root, with its slopes from the implicit function theorem.
  Flow flow(double flux) const {
    const double kinetic = 2.0 * flux * flux * rt_;
    const double slip = -flux * c_ * friction_.dg_dkn * knudsen_ / sum_;
    const double by_p1 = kinetic / ends_.p1 - 2.0 * ends_.p1 + slip;
    const double by_p2 = choked_ ? 0.0 : 2.0 * exit_ - kinetic / exit_ + slip;
    const double per_slope = area_ / slope_;
    return {area_ * flux, -by_p1 * per_slope, -by_p2 * per_slope};
  }

  Ends ends_;
  double loss_;  // K
  double rt_;    // R T
  double c_;     // R T mu L/D^2
  double re_;    // Re/G
  double kn_;    // Kn (p1 + pe)
  const Duct& duct_;
  double area_;
  double roughness_ = 0.0;  // eps/D, once it is needed

  // At the trial flux tried last:
  bool choked_ = false;
  double exit_ = 0.0;       // pe
  double drop_ = 0.0;       // p1 - pe
  double sum_ = 0.0;        // p1 + pe
  double knudsen_ = 0.0;    // Kn
  double log_ratio_ = 0.0;  // ln(p1/pe)
  double slope_ = 0.0;      // dF/dG
  Friction friction_{};
};

void require_sound(const Duct& duct, const Ends& ends) {
  require_pressures(ends);
  require(duct.bore > 0.0 && duct.length > 0.0, "A duct needs a positive bore and length.");
  require(duct.roughness >= 0.0 && duct.roughness <= 0.1 * duct.bore,
          "A duct's roughness must lie between 0 and a tenth of its bore.");
  require(duct.loss_forward >= 0.0 && duct.loss_back >= 0.0, "A duct's minor losses must not be negative.");
}

/// The same duct seen from its other end.
Duct turned(const Duct& duct) { return {duct.bore, duct.length, duct.roughness, duct.loss_back, duct.loss_forward}; }

}  // namespace

Flow duct(const Duct& duct, const Ends& ends, const gas::Air& air, double guess, double close) {
  require_sound(duct, ends);
  if (ends.drop < 0.0)
    return reversed(DownDuct(duct, duct.loss_back, {ends.p2, ends.p1, -ends.drop}, air).solve(-guess, close));
  return DownDuct(duct, duct.loss_forward, ends, air).solve(guess, close);
}

double duct_by_bore(const Duct& duct, const Ends& ends, const gas::Air& air, double flow) {
  require_sound(duct, ends);
  if (ends.drop < 0.0) return -duct_by_bore(turned(duct), {ends.p2, ends.p1, -ends.drop}, air, -flow);
  DownDuct down(duct, duct.loss_forward, ends, air);
  return down.by_bore(down.solve(flow, exactly).m);
}

double reynolds(double m, double bore, const gas::Air& air) {
  require(bore > 0.0, "A Reynolds number needs a positive bore.");
  return 4.0 * std::abs(m) / (std::numbers::pi * bore * air.viscosity);
}

}  // namespace airtally::laws
