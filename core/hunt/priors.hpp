#pragma once
#include "hunt/prior.hpp"
#include "line/line.hpp"

/// What is believed of a line before anything is read.
namespace airtally::hunt {

/// Leak of a healthy element of a kind: median [kg/s at leak_vacuum()] and standard deviation of its logarithm.
struct HealthyLeak {
  double median;
  double log_sd;
};
HealthyLeak healthy_leak(line::Kind kind);

/// Factor on that median: log-normal among the whole, and damage.
Prior healthy_leak_prior(line::Kind kind);

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
