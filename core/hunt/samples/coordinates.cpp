#include <cmath>

#include "hunt/samples/stand_in_private.hpp"

// The coordinates in which a line is nearly linear.

namespace airtally::hunt {
namespace {

/// Drop of a clear restriction over all that drives the flow: with it a restriction in series lets through as
/// 1/(1 + this times its own growth), which is straight while it is small and ends where it is plugged.
constexpr double small_drop = 0.05;

}  // namespace

bool StandIn::per_pump(Eigen::Index k) const {
  const What what = suspects_->unknowns[static_cast<std::size_t>(k)].what;
  return what == What::leak || what == What::seal;
}

double StandIn::coordinate(Eigen::Index k, double v, double pump) const {
  switch (suspects_->unknowns[static_cast<std::size_t>(k)].what) {
    case What::leak:
    case What::seal:
      return v / pump;
    case What::blockage:
      return 1.0 / (1.0 + small_drop * std::pow(v, power_[static_cast<std::size_t>(k)]));
    case What::pump_flow:
    case What::pump_vacuum:
      return std::log(v);
    case What::offset:
      break;
  }
  return v;
}

double StandIn::value(Eigen::Index k, double w, double pump) const {
  switch (suspects_->unknowns[static_cast<std::size_t>(k)].what) {
    case What::leak:
    case What::seal:
      return w * pump;
    case What::blockage:
      return w > 0.0 && w < 1.0 ? std::pow((1.0 / w - 1.0) / small_drop, 1.0 / power_[static_cast<std::size_t>(k)])
                                : -1.0;
    case What::pump_flow:
    case What::pump_vacuum:
      return std::exp(w);
    case What::offset:
      break;
  }
  return w;
}

double StandIn::stretch(Eigen::Index k, double z, double v, double w, double pump) const {
  const Unknown& unknown = suspects_->unknowns[static_cast<std::size_t>(k)];
  const double slope = unknown.prior.slope(z, v);
  switch (unknown.what) {
    case What::leak:
    case What::seal:
      return slope / pump;
    case What::blockage:  // w = 1/(1 + d) with d = small_drop v^power: dw/dv = -d power/(v (1 + d)^2)
      return -power_[static_cast<std::size_t>(k)] * w * (1.0 - w) / v * slope;
    case What::pump_flow:
    case What::pump_vacuum:
      return slope / v;
    case What::offset:
      break;
  }
  return slope;
}

}  // namespace airtally::hunt
