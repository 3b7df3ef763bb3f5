#pragma once
#include "line/line.hpp"

/// What is believed of a line before anything is read.
namespace airtally::hunt {

/// A quantity as a function of a standard normal variable z, so that every unknown of a hunt is alike to the fit.
struct Prior {
  enum class Shape {
    log_normal,  ///< middle e^(spread z)
    range,       ///< ((low + (high - low) Phi(z))/middle)^power: anywhere between low and high
    wear,        ///< top e^(-middle e^(spread z)): at most `top`, mostly just below it, with a long tail downwards
    soft_wear,   ///< top e^(-middle softplus(spread z)/ln 2): as wear, with a shorter tail
    normal       ///< middle + spread z
  };
  Shape shape = Shape::log_normal;
  double middle = 1.0;
  double spread = 0.0;
  double low = 0.0, high = 0.0, power = 1.0;  // range
  double top = 1.0;                           // wear, soft_wear

  double at(double z) const;
  double slope(double z) const { return slope(z, at(z)); }  ///< d at/dz
  double slope(double z, double value) const;               ///< the same where at(z) is known to be `value`
  /// The z of a value that the prior can take; values beyond its ends give z = -6 or 6.
  double z_of(double value) const;
};

/// Leak of a healthy element of a kind: median [kg/s at leak_vacuum()] and standard deviation of its logarithm.
struct HealthyLeak {
  double median;
  double log_sd;
};
HealthyLeak healthy_leak(line::Kind kind);

/// The vacuum at which leaks are compared [Pa]: 60 kPa, or 60 % of an ambient pressure below 70 kPa.
double leak_vacuum(const gas::Site& site);

/// Factor on the stated leaks of an element. A tolerance or range of a leak's hole (flow as its square), gap (cube) or
/// rated flow is its prior; an exact leak may have grown or been mended by e^1.7 either way. Several leaks: the spread
/// of their sum.
Prior leak_prior(const line::Element& element);

/// Open fraction of what air runs through, 1 = as the file has it, 0 = plugged: a factor on the flow at given
/// pressures. Its logarithm is log-normal, by kind.
Prior blockage_prior(line::Kind kind);

/// Factor on the flow between part and rim: from the gap's tolerance, else e^0.5 either way.
Prior seal_prior(const line::Part& part);

/// Factors on a source's flow and on its vacuum axis. The line's `speed` tolerance is the flow factor's prior.
Prior pump_flow_prior(const line::Pump& pump);
Prior pump_vacuum_prior(const line::Pump& pump);

}  // namespace airtally::hunt
