#pragma once
#include <optional>
#include <vector>

#include "gas/site.hpp"
#include "line/log.hpp"
#include "units/quantity.hpp"

namespace airtally::hunt {

/// What lets air into the volume that was shut off.
enum class Inflow {
  laminar,    ///< as p_amb^2 - p^2: fittings, seals, narrow gaps
  orifice,    ///< choked below 0.528 of ambient, then the ellipse of ISO 6358: holes and cuts
  outgassing  ///< as 1/t: what comes out of soft tube and wet walls, and not through a leak
};

/// Median and central 90 %; a limit is 0 where the data give none.
struct Spread90 {
  double median = 0.0,  ///< half lies below; 0 where only one limit is known
      low = 0.0,        ///< 5 % lies below
      high = 0.0;       ///< 95 % lies below
};

/// Standard deviations of a normal distribution from its median to either end of its central 90 % [-].
inline constexpr double z90 = 1.6448536269514722;

/// One kind of leak by itself, as its course fits a log.
struct DecayCourse {
  Inflow inflow = Inflow::laminar;  ///< laminar or orifice
  double probability = 1.0;         ///< that it is this one, of those that were fitted [-], 0 to 1
  double rate = 0.0;                ///< dp/dt by that leak at the vacuum at which leaks are compared [Pa/s]
  double deviation = 0.0;           ///< its standard deviation, drift and last digit included [Pa/s] >= 0
};

/// How a shut-off volume loses its vacuum.
struct Decay {
  line::Log log;          ///< as it was recorded
  std::size_t first = 0;  ///< row from which on the pump counts as shut off: that of the deepest vacuum
  /// The vacuum is gone before a third row: no course can be fitted, and the rate has but a low limit.
  bool least_only = false;
  bool follows = true;              ///< false: no course of one shut-off volume comes near the log; `rate` says nothing
  Inflow inflow = Inflow::laminar;  ///< the leak that fits best; tells_inflow() says whether another may be it
  std::vector<DecayCourse> courses;  ///< all that were fitted, the likeliest first; together 1; none: no fit
  double start = 0.0;                ///< pressure at that row, fitted where there is a fit [Pa, absolute]
  Spread90 rate;                ///< dp/dt by the leak at the vacuum at which leaks are compared [Pa/s]: of all courses
  double deviation = 0.0;       ///< standard deviation of that rate about its mean over the courses [Pa/s]; 0: no fit
  double outgassing = 0.0;      ///< share of the whole rise that goes as 1/t [-]; 0 unless the data ask for it
  bool leak_shown = true;       ///< false: outgassing alone explains the log as well
  bool drift_shown = false;     ///< the whole rise is no more than a change of temperature would make
  double drift = 0.0;           ///< change of temperature over the log that was allowed for [K]
  double drift_alone = 0.0;     ///< change of temperature that would make the whole rise [K]
  double rms = 0.0;             ///< of the fit [Pa]
  double two_point_rate = 0.0;  ///< (last - first pressure)/time, EN 13184's pressure change [Pa/s]
  double mean_pressure = 0.0;   ///< of these two [Pa, absolute]
  std::vector<double> fitted;   ///< vacuum by the fit [Pa], one per row from `first` on; none: no fit
};

/// Fits dp/dt = s f(p)/f(p_ref) + A/(t + t0), p_ref at leak_vacuum(), f by kind of inflow, to the log from its deepest
/// vacuum on. Both leaks have closed forms: p = p_amb tanh(atanh(p0/p_amb) + s p_amb t/(p_amb^2 - p_ref^2)); for the
/// orifice p/p_amb rises evenly to b = 0.528 and then as b + (1-b) sin(t/tau). The 1/t part is only taken in when it
/// lowers the sum of squares by more than chance would (F test, 1 %). Each kind of leak has its rate and error:
/// Student's, from the linear model at the optimum, widened by a `drift` of temperature over the log that is two
/// standard deviations [K], and by the last digit of the log over its whole time, as much. As the same log means a rate
/// that differs by kind (5 % from 70 to 62 kPa), `rate` is of all kinds, each as probable as the log leaves it
/// (decay_average_private.hpp). Isothermal: a decay that takes seconds follows the walls
/// (docs/physics.md); the air that leaks in is at ambient. A log that loses nothing gives the rate an upper limit; one
/// whose vacuum is gone (a twentieth of its deepest) before its third row a lower one, the mean rate up to there, as
/// air comes in fastest at the start. A fit `follows` when it is off by less than 1 % of the deepest vacuum (rms), or
/// by less than 3 kPa and three times what neighbouring rows scatter. Throws BadInput when there are fewer than
/// line::fewest_decay_rows from the deepest vacuum on, or it grows again after a first loss: the rate's upper limit is
/// above 0 where it has one. `drift` [K] >= 0.
/// Tested by tests/hunt/decay_test.cpp.
Decay fit_decay(const line::Log& log, const gas::Site& site, double drift);

/// Probability of another kind of leak from which on the central 90 % of the rate reach into what that one gives.
inline constexpr double too_likely = 0.05;
/// Whether the log tells a seal from a hole: every kind of leak but the first is less likely than `too_likely`. False
/// without a fit.
bool tells_inflow(const Decay& decay);

/// The leak [kg/s at leak_vacuum()] of a volume [m3] > 0, V s/(R T), with both uncertainties: a tolerance as that of a
/// logarithm, a range as a range. A log that gives its rate one limit alone gives the leak the same.
Spread90 leak_of(const Decay& decay, const units::Quantity& volume, const gas::Site& site);
/// The volume [m3] of a leak [kg/s at leak_vacuum()] > 0, with both uncertainties. A log that may show no rise gives it
/// no upper limit, one whose best rate is 0 no median either, one with but a least rate no lower limit. `deviation` [-]
/// >= 0: standard deviation of the logarithm of a factor on that leak that nobody knows, such as HoleLeak's.
Spread90 volume_of(const Decay& decay, const units::Quantity& leak, const gas::Site& site, double deviation = 0.0);

}  // namespace airtally::hunt
