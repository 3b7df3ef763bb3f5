#pragma once
#include "hunt/beliefs/prior.hpp"
#include "line/line.hpp"

/// What is believed of a line before anything is read.
namespace airtally::hunt {

/// Leak of a healthy element of a kind: median [kg/s at leak_vacuum()] and standard deviation of its logarithm.
struct HealthyLeak {
  double median;  ///< [kg/s at leak_vacuum()] > 0
  double log_sd;  ///< standard deviation of its logarithm [-] > 0
};
/// That of a kind. Common practice, no source.
HealthyLeak healthy_leak(line::Kind kind);

/// Factor on that median: log-normal among the whole, and damage.
Prior healthy_leak_prior(line::Kind kind);

/// The vacuum at which leaks are compared [Pa]: 60 kPa, or 60 % of an ambient pressure below 70 kPa.
double leak_vacuum(const gas::Site& site);

/// Factor on the stated leaks of an element. A tolerance or range of a leak's hole (flow as its square), gap (cube) or
/// rated flow is its prior; an exact leak may have grown or been mended by e^1.7 either way. Several leaks: the widest
/// of theirs.
Prior leak_prior(const line::Element& element);

/// Open fraction of what air runs through, 1 = as the file has it, 0 = plugged: a factor on the flow at given
/// pressures. Its logarithm is log-normal, by kind.
Prior blockage_prior(line::Kind kind);

/// The bore of an element, other than a nozzle, that is twenty times as long as it is wide, or longer; null where there
/// is none. Narrowed over its whole length such a one passes less by another law than one that is blocked in one place:
/// friction along the wall, which is laminar in a narrow bore, and not the heads lost at a step.
const line::Bore* long_bore(const line::Element& element);
/// Factor on the diameter of such a bore: its tolerance or range, else 1.5 % either way; and damage, which makes it
/// narrower.
Prior bore_prior(const line::Bore& bore);

/// How much of what has grown of the leaks is as a hole: anything from none to all.
Prior hole_share_prior();

/// Factor on the flow between part and rim: from the gap's tolerance, else e^0.5 either way; and damage: a grain under
/// the part, a rim that is chipped, a part that is not flat.
Prior seal_prior(const line::Part& part);

/// Factor on a source's flow. The line's `speed` tolerance is the flow factor's prior.
Prior pump_flow_prior(const line::Pump& pump);
/// Factor on its vacuum axis: at most what leaves its ultimate pressure above zero.
Prior pump_vacuum_prior(const line::Pump& pump);

}  // namespace airtally::hunt
