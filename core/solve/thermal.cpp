#include "solve/thermal.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "solve/path_flow.hpp"

namespace airtally::solve {
namespace {

constexpr double prandtl = 0.71;  ///< of air near room temperature; Incropera, Table A.4
constexpr double coldest = 0.2;   ///< tau is kept above this in the stages of a step; real runs stay above 0.5
constexpr double nudge = 1e-6;    ///< relative step of temperature for the slope of a law with it

}  // namespace

ThermalLine::ThermalLine(Network network, double exchange)
    : LineSystem(std::move(network)),
      n_(network_.nodes.size()),
      elimination_(std::make_shared<Ordering>(static_cast<int>(n_), network_.pairs())),
      slots_(network_.paths.size()),
      air_(n_, network_.air),
      p_(n_),
      tau_(n_),
      wall_(n_),
      guess_(network_.paths.size(), 0.0),
      mass_(2 * n_ + 2),
      gained_mass_(2 * n_),
      gained_energy_(2 * n_) {
  double whole = 0.0;
  for (const Node& node : network_.nodes) whole += node.volume;
  const double least = 1e-6 * whole / static_cast<double>(n_);
  const double conductivity_over_cp = network_.air.viscosity / prandtl;  // k/cp = mu/Pr
  double held = 0.0;
  for (std::size_t i = 0; i < n_; ++i) {
    const double storage = std::max(network_.nodes[i].volume, least) / network_.air.rt;
    mass_[2 * i] = storage / gas::gamma;
    mass_[2 * i + 1] = storage;
    held += storage;
    wall_[i] = exchange * network_.nodes[i].exchange * conductivity_over_cp;
  }
  mass_[2 * n_] = mass_[2 * n_ + 1] = held;
  for (std::size_t k = 0; k < network_.paths.size(); ++k) {
    const Path& path = network_.paths[k];
    const int a = path.role == Role::restriction && path.a == outside ? network_.node_of[path.element] : path.a;
    if (a != outside && path.b != outside && a != path.b) slots_[k] = elimination_.ordering().slot(a, path.b);
  }
}

std::vector<double> ThermalLine::state(const Pressures& pressures) const {
  std::vector<double> x(2 * n_ + 2, 0.0);
  for (std::size_t i = 0; i < n_; ++i) x[2 * i] = x[2 * i + 1] = pressures.p[i];
  return x;
}

double ThermalLine::temperature(std::span<const double> x, int node) const {
  return network_.air.temperature * x[2 * static_cast<std::size_t>(node)] / x[2 * static_cast<std::size_t>(node) + 1];
}

void ThermalLine::rate(double t, std::span<const double> x, std::span<double> f) { evaluate(t, x, f, false); }

void ThermalLine::rate_and_factor(double t, std::span<const double> x, double shift, std::span<double> f) {
  elimination_.clear();
  std::fill(gained_mass_.begin(), gained_mass_.end(), 0.0);
  std::fill(gained_energy_.begin(), gained_energy_.end(), 0.0);
  evaluate(t, x, f, true);
  for (std::size_t i = 0; i < n_; ++i) {
    elimination_.diagonal()[i][0] += shift * mass_[2 * i];
    elimination_.diagonal()[i][3] += shift * mass_[2 * i + 1];
  }
  elimination_.factor();
  shift_ = shift;
}

/// A flow's slopes with the four unknowns of its two ends; an end outside has none.
struct ThermalLine::Slopes {
  std::array<double, 2> mass_a{}, mass_b{};      ///< dm/d(p, q) of end a and of end b
  std::array<double, 2> energy_a{}, energy_b{};  ///< the same of m tau
};

void ThermalLine::evaluate(double t, std::span<const double> x, std::span<double> f, bool with_slopes) {
  drive(t);
  ++evaluations_;
  std::fill(f.begin(), f.end(), 0.0);
  const double site = network_.air.temperature;
  for (std::size_t i = 0; i < n_; ++i) {
    p_[i] = std::max(x[2 * i], least_);
    tau_[i] = std::max(p_[i] / std::max(x[2 * i + 1], least_), coldest);
    air_[i] = gas::air_at(site * tau_[i]);
    const double heat = wall_[i] * (1.0 - tau_[i]);
    f[2 * i] += heat;
    f[2 * n_ + 1] += heat;
    if (with_slopes) {
      const double by_p = -wall_[i] * tau_[i] / p_[i], by_q = wall_[i] * tau_[i] * tau_[i] / p_[i];
      elimination_.diagonal()[i][0] -= by_p;
      elimination_.diagonal()[i][1] -= by_q;
      gained_energy_[2 * i] += by_p;
      gained_energy_[2 * i + 1] += by_q;
    }
  }

  for (std::size_t k = 0; k < network_.paths.size(); ++k) {
    const Path& path = network_.paths[k];
    if (path.mode == Mode::closed || path.a == path.b) continue;  // a ring carries nothing
    const bool a_in = path.a != outside, b_in = path.b != outside;
    const double pa = a_in ? p_[path.a] : path.outside_pressure, pb = b_in ? p_[path.b] : path.outside_pressure;
    const int up = pa >= pb ? path.a : path.b;
    const gas::Air& air = up == outside ? network_.air : air_[up];
    const double tau = up == outside ? 1.0 : tau_[up];
    const laws::Ends ends = path_ends(path, pa, pb);
    const laws::Flow flow = path_flow(path, ends, air, short_, guess_[k]);
    const double m = flow.m, e = m * tau;
    if (a_in) {
      f[2 * path.a] -= e;
      f[2 * path.a + 1] -= m;
    } else {
      f[2 * n_] += m;
      f[2 * n_ + 1] += e;
    }
    if (b_in) {
      f[2 * path.b] += e;
      f[2 * path.b + 1] += m;
    } else {
      f[2 * n_] -= m;
      f[2 * n_ + 1] -= e;
    }
    if (!with_slopes) continue;

    Slopes s;
    s.mass_a[0] = flow.dm_dp1;
    s.mass_b[0] = flow.dm_dp2;
    s.energy_a[0] = tau * flow.dm_dp1;
    s.energy_b[0] = tau * flow.dm_dp2;
    if (up != outside && m != 0.0) {
      // dm/dT of the upstream end by a difference; T = T0 p/q turns it into slopes with p and q.
      double guess = guess_[k];
      const double warmer = air.temperature * (1.0 + nudge);
      const double m_by_tau = (path_flow(path, ends, gas::air_at(warmer), short_, guess).m - m) / (nudge * tau);
      const double e_by_tau = m + tau * m_by_tau;
      const double tau_by_p = tau / p_[up], tau_by_q = -tau * tau / p_[up];
      std::array<double, 2>& mass = up == path.a ? s.mass_a : s.mass_b;
      std::array<double, 2>& energy = up == path.a ? s.energy_a : s.energy_b;
      mass[0] += m_by_tau * tau_by_p;
      mass[1] += m_by_tau * tau_by_q;
      energy[0] += e_by_tau * tau_by_p;
      energy[1] += e_by_tau * tau_by_q;
    }
    // The elimination holds minus the slopes of f: out of a, into b.
    const auto put = [&](Block& block, const std::array<double, 2>& energy, const std::array<double, 2>& mass,
                         double sign) {
      block[0] += sign * energy[0];
      block[1] += sign * energy[1];
      block[2] += sign * mass[0];
      block[3] += sign * mass[1];
    };
    const auto gain = [&](int node, const std::array<double, 2>& energy, const std::array<double, 2>& mass,
                          double sign) {
      for (std::size_t u = 0; u < 2; ++u) {
        gained_mass_[2 * node + u] += sign * mass[u];
        gained_energy_[2 * node + u] += sign * energy[u];
      }
    };
    if (a_in) put(elimination_.diagonal()[path.a], s.energy_a, s.mass_a, 1.0);
    if (b_in) put(elimination_.diagonal()[path.b], s.energy_b, s.mass_b, -1.0);
    if (a_in && b_in) {
      put(elimination_.couplings()[slots_[k].from_first], s.energy_a, s.mass_a, -1.0);  // row b, column a
      put(elimination_.couplings()[slots_[k].from_second], s.energy_b, s.mass_b, 1.0);  // row a, column b
    } else if (a_in) {
      gain(path.a, s.energy_a, s.mass_a, -1.0);
    } else if (b_in) {
      gain(path.b, s.energy_b, s.mass_b, 1.0);
    }
  }

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

void ThermalLine::solve(std::span<double> b) {
  elimination_.solve(b.first(2 * n_));
  double mass = b[2 * n_], energy = b[2 * n_ + 1];
  for (std::size_t u = 0; u < 2 * n_; ++u) {
    mass += gained_mass_[u] * b[u];
    energy += gained_energy_[u] * b[u];
  }
  const double held = shift_ * mass_[2 * n_];
  b[2 * n_] = mass / held;
  b[2 * n_ + 1] = energy / held;
}

LineSystem::Account ThermalLine::content(std::span<const double> x) const {
  Account account;
  for (std::size_t i = 0; i < n_; ++i) {
    account.energy += mass_[2 * i] * x[2 * i];
    account.mass += mass_[2 * i + 1] * x[2 * i + 1];
  }
  return account;
}

LineSystem::Account ThermalLine::brought_in(std::span<const double> x) const {
  return {mass_[2 * n_] * x[2 * n_], mass_[2 * n_] * x[2 * n_ + 1]};
}

}  // namespace airtally::solve
