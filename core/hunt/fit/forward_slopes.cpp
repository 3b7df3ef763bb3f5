#include <algorithm>

#include "hunt/fit/forward.hpp"
#include "solve/path_flow.hpp"

namespace airtally::hunt {

double Rig::by_value(std::size_t unknown, int path) const {
  const solve::Path& p = network_.paths[path];
  // At factor 0 the flow per unit factor is lost; no unknown ever is exactly there.
  const double unit = p.scale > 0.0 ? steady_.evaluation().flow[path].m / p.scale : 0.0;
  if (suspects_->unknowns[unknown].what != What::bore) return unit;
  const auto at = [&](int node) { return node == solve::outside ? p.outside_pressure : x_.p[node]; };
  const auto low = [&](int node) { return node == solve::outside ? 0.0 : x_.low[node]; };
  const laws::Ends ends = solve::path_ends(p, at(p.a), at(p.b), low(p.a) - low(p.b));
  return p.scale * filed_[unknown].bore * laws::duct_by_bore(std::get<laws::Duct>(p.law), ends, network_.air, unit);
}

double Rig::weighed(int path) const {
  const solve::Path& p = network_.paths[path];
  if (p.mode != solve::Mode::active) return 0.0;
  return (p.b != solve::outside ? rhs_[p.b] : 0.0) - (p.a != solve::outside ? rhs_[p.a] : 0.0);
}

void Rig::slopes(Instrument instrument, std::size_t at, std::span<const double> values, std::span<double> out) {
  // The factors belong to the last solve() and are shared by all instruments of the setting.
  if (!factors_) factors_ = &steady_.factored(network_);
  std::fill(rhs_.begin(), rhs_.end(), 0.0);
  std::fill(out.begin(), out.end(), 0.0);
  const std::size_t here = index_[at];
  const int node = network_.node_of[here];
  const std::size_t offset = offset_of(instrument, at);
  int gauge_source = -1;
  if (is_gauge(instrument)) {
    rhs_[node] = -1.0;
    out[offset] = 1.0;
  } else if (instrument == Instrument::current) {
    rhs_[node] = currents_[at]->at(x_.p[node]).di_dp;
    out[offset] = 1.0;
  } else {
    for (std::size_t s = 0; s < network_.sources.size(); ++s)
      if (network_.sources[s].element == here) gauge_source = static_cast<int>(s);
    const laws::PumpFlow pull = network_.sources[gauge_source].at(x_.p[node]);
    rhs_[node] = pull.dm_dp * (1.0 + values[offset]);
    out[offset] = pull.m;
  }
  factors_->solve_transposed(rhs_);
  for (std::size_t k = 0; k < out.size(); ++k) {
    double own = 0.0;
    for (int path : paths_[k]) own += weighed(path) * by_value(k, path);
    if (tears_[k] < 0) {
      out[k] += own;
    } else {
      const Torn leak = torn_at(values[k]);
      const double hole = weighed(tears_[k]) * by_value(k, tears_[k]);
      out[k] += leak.own_by_factor * own + leak.hole_by_factor * hole;
      if (hole_share_at_ != line::none) out[hole_share_at_] += leak.by_share * (hole - own);
    }
    if (source_[k] < 0) continue;
    const solve::Source& source = network_.sources[source_[k]];
    const double p = x_.p[source.node];
    const laws::PumpFlow pull = source.at(p);
    const double unit = suspects_->unknowns[k].what == What::pump_flow
                            ? pull.m / source.flow_factor
                            : pull.dm_dp * (network_.ambient - p) / source.vacuum_factor;
    out[k] -= rhs_[source.node] * unit;
    if (source_[k] == gauge_source) out[k] += unit * (1.0 + values[offset]);
  }
}

}  // namespace airtally::hunt
