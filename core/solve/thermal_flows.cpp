#include <algorithm>

#include "solve/carried.hpp"
#include "solve/lawful_private.hpp"
#include "solve/path_flow.hpp"
#include "solve/thermal.hpp"

namespace airtally::solve {
namespace {

constexpr double coldest = 0.2;       ///< tau is kept above this in the stages of a step; real runs stay above 0.5
constexpr double coldest_air = 50.0;  ///< and air above this [K], below which gas::air_at() has no viscosity
constexpr double hottest = 5.0;       ///< the same upwards; real runs stay below 1.6
constexpr double nudge = 1e-5;        ///< relative step of temperature for the slope of a law with it

}  // namespace

/// One flow and its slopes with p and q of the nodes that it depends on: its two ends, and the node before the one that
/// it comes from.
struct ThermalLine::Stream {
  double m = 0.0;  ///< a -> b [kg/s]
  double e = 0.0;  ///< m times the temperature that it carries
  struct By {
    std::array<double, 2> mass{}, energy{};
  };
  By a, b, before;

  /// Adds to `by` what the flow owes to a node's tau = p/q.
  static void add(By& by, double mass_by_tau, double energy_by_tau, double p, double tau) {
    const std::array<double, 2> tau_by{tau / p, -tau * tau / p};
    for (std::size_t u = 0; u < 2; ++u) {
      by.mass[u] += mass_by_tau * tau_by[u];
      by.energy[u] += energy_by_tau * tau_by[u];
    }
  }
};

void ThermalLine::evaluate(double t, std::span<const double> x, std::span<double> f, bool with_slopes) {
  drive(t);
  ++evaluations_;
  std::fill(f.begin(), f.end(), 0.0);
  evaluate_nodes(x, f, with_slopes);
  for (std::size_t k = 0; k < network_.paths.size(); ++k) {
    const Path& path = network_.paths[k];
    if (path.mode == Mode::closed || path.a == path.b) continue;  // a ring carries nothing
    const Stream stream = stream_of(k, with_slopes);
    if (path.a != outside) {
      f[2 * path.a] -= stream.e;
      f[2 * path.a + 1] -= stream.m;
    } else {
      f[2 * n_] += stream.m;
      f[2 * n_ + 1] += stream.e;
    }
    if (path.b != outside) {
      f[2 * path.b] += stream.e;
      f[2 * path.b + 1] += stream.m;
    } else {
      f[2 * n_] -= stream.m;
      f[2 * n_ + 1] -= stream.e;
    }
    if (with_slopes) couple(k, stream);
  }
  evaluate_sources(f, with_slopes);
}

void ThermalLine::evaluate_nodes(std::span<const double> x, std::span<double> f, bool with_slopes) {
  const double least_tau = std::max(coldest, coldest_air * (1.0 + 1e-12) / network_.air.temperature);
  for (std::size_t i = 0; i < n_; ++i) {
    p_[i] = lawful(x[2 * i], least_);
    tau_[i] = std::clamp(p_[i] / lawful(x[2 * i + 1], least_), least_tau, hottest);
    air_[i] = gas::air_at(network_.air.temperature * tau_[i]);
    const double heat = wall_[i] * (1.0 - tau_[i]);
    f[2 * i] += heat;
    f[2 * n_ + 1] += heat;
    if (!with_slopes) continue;
    const double by_p = -wall_[i] * tau_[i] / p_[i], by_q = wall_[i] * tau_[i] * tau_[i] / p_[i];
    elimination_.diagonal()[i][0] -= by_p;
    elimination_.diagonal()[i][1] -= by_q;
    gained_energy_[2 * i] += by_p;
    gained_energy_[2 * i + 1] += by_q;
  }
}

ThermalLine::Stream ThermalLine::stream_of(std::size_t k, bool with_slopes) {
  const Path& path = network_.paths[k];
  const bool a_in = path.a != outside, b_in = path.b != outside;
  const double pa = a_in ? p_[path.a] : path.outside_pressure, pb = b_in ? p_[path.b] : path.outside_pressure;
  const bool forward = pa >= pb;
  const int up = forward ? path.a : path.b, down = forward ? path.b : path.a;
  const double tau_up = up == outside ? 1.0 : tau_[up];

  // A piece of a tube has the mean temperature of its ends; all else takes what enters it.
  const Neighbours& near = neighbours_[k];
  const double tau_law = near.piece ? 0.5 * (tau_[path.a] + tau_[path.b]) : tau_up;
  const gas::Air air = near.piece      ? gas::air_at(network_.air.temperature * tau_law)
                       : up == outside ? network_.air
                                       : air_[up];
  const bool eased = bounce_.eases(k, pa - pb);
  // The difference of two flows has fewer digits than they.
  const double close = with_slopes ? 0.1 * close_ : close_;
  const auto flow_of = [&](const gas::Air& entering, double& guess) {
    return eased ? eased_flow(path, pa, pb, entering, short_, guess)
                 : path_flow(path, path_ends(path, pa, pb), entering, short_, guess, close);
  };
  double guess = eased ? last_[k].m : last_[k].guess(pa, pb);
  const laws::Flow flow = flow_of(air, guess);
  if (eased)
    last_[k] = {guess};
  else
    last_[k].keep(flow, path.scale, guess, pa, pb);
  const int before = forward ? near.before_a : near.before_b;
  const Carried tau = before == outside ? Carried{tau_up, 0.0, 1.0, 0.0} : carried(tau_[before], tau_up, tau_[down]);

  Stream s;
  s.m = flow.m;
  s.e = flow.m * tau.tau;
  if (!with_slopes) return s;
  s.a.mass[0] = flow.dm_dp1;
  s.b.mass[0] = flow.dm_dp2;
  s.a.energy[0] = tau.tau * flow.dm_dp1;
  s.b.energy[0] = tau.tau * flow.dm_dp2;
  if (up == outside || flow.m == 0.0) return s;
  // dm/dT by a difference; T = T0 p/q turns it into slopes with p and q.
  const double warmer = air.temperature * (1.0 + nudge);
  const double m_by_tau = (flow_of(gas::air_at(warmer), guess).m - flow.m) / (nudge * tau_law);
  const double share_up = near.piece ? 0.5 : 1.0;
  Stream::By &by_up = forward ? s.a : s.b, &by_down = forward ? s.b : s.a;
  const auto energy = [&](double share, double by) { return tau.tau * share * m_by_tau + flow.m * by; };
  Stream::add(by_up, share_up * m_by_tau, energy(share_up, tau.by_up), p_[up], tau_[up]);
  if (near.piece) Stream::add(by_down, 0.5 * m_by_tau, energy(0.5, tau.by_down), p_[down], tau_[down]);
  if (before != outside) Stream::add(s.before, 0.0, flow.m * tau.by_before, p_[before], tau_[before]);
  return s;
}

void ThermalLine::couple(std::size_t k, const Stream& s) {
  const Path& path = network_.paths[k];
  const Neighbours& near = neighbours_[k];
  const bool a_in = path.a != outside, b_in = path.b != outside;
  // The elimination holds minus the slopes of f: out of a, into b.
  const auto put = [](Block& block, const Stream::By& by, double sign) {
    block[0] += sign * by.energy[0];
    block[1] += sign * by.energy[1];
    block[2] += sign * by.mass[0];
    block[3] += sign * by.mass[1];
  };
  const auto gain = [&](int node, const Stream::By& by, double sign) {
    for (std::size_t u = 0; u < 2; ++u) {
      gained_mass_[2 * node + u] += sign * by.mass[u];
      gained_energy_[2 * node + u] += sign * by.energy[u];
    }
  };
  if (a_in) put(elimination_.diagonal()[path.a], s.a, 1.0);
  if (b_in) put(elimination_.diagonal()[path.b], s.b, -1.0);
  if (!a_in || !b_in) {
    if (a_in) gain(path.a, s.a, -1.0);
    if (b_in) gain(path.b, s.b, 1.0);
    return;
  }
  std::vector<Block>& couplings = elimination_.couplings();
  put(couplings[near.ends.from_first], s.a, -1.0);  // row b, column a
  put(couplings[near.ends.from_second], s.b, 1.0);  // row a, column b
  const bool forward = p_[path.a] >= p_[path.b];
  if ((forward ? near.before_a : near.before_b) == outside) return;
  const BeforeSlots& before = forward ? near.slots_a : near.slots_b;
  put(couplings[before.row_a], s.before, 1.0);
  put(couplings[before.row_b], s.before, -1.0);
}

void ThermalLine::evaluate_sources(std::span<double> f, bool with_slopes) {
  for (const Source& source : network_.sources) {
    const std::size_t i = static_cast<std::size_t>(source.node);
    const laws::PumpFlow pull = source.at(p_[i]);
    // The curve's mass flow holds for air of the site's temperature; the pump takes a volume.
    const double m = pull.m / tau_[i];
    f[2 * i] -= pull.m;
    f[2 * i + 1] -= m;
    f[2 * n_] -= m;
    f[2 * n_ + 1] -= pull.m;
    if (!with_slopes) continue;
    const double m_by_p = pull.dm_dp / tau_[i] - m / p_[i], m_by_q = m * tau_[i] / p_[i];
    elimination_.diagonal()[i][0] += pull.dm_dp;
    elimination_.diagonal()[i][2] += m_by_p;
    elimination_.diagonal()[i][3] += m_by_q;
    gained_energy_[2 * i] -= pull.dm_dp;
    gained_mass_[2 * i] -= m_by_p;
    gained_mass_[2 * i + 1] -= m_by_q;
  }
}

}  // namespace airtally::solve
