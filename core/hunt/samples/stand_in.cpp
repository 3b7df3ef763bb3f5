#include <algorithm>
#include <cmath>

#include "hunt/samples/stand_in_private.hpp"

namespace airtally::hunt {
namespace {

/// Share of what the readings were moved by which a linearisation may be off.
constexpr double doubt = 0.015;
/// Chance, over that of a true twin, with which an unknown is tried as a counterweight for one it is no kin of.
constexpr double strangers = 0.03;

/// Power of the open fraction with which the drop goes at a given flow: what is laminar below two, what is not two.
double power_of(line::Kind kind) {
  using line::Kind;
  return kind == Kind::valve || kind == Kind::check_valve || kind == Kind::nozzle ? -2.0 : -1.3;
}

/// What is taken as it is: a current may fall and rise again, and a log's inflow is linear in the leaks.
bool as_it_is(Instrument instrument) { return instrument == Instrument::current || instrument == Instrument::inflow; }

/// Columns of the covariance, each over its own variance.
Eigen::MatrixXd yield_of(const Eigen::MatrixXd& gram, const Eigen::VectorXd& loose) {
  const Eigen::Index n = gram.rows();
  const Eigen::VectorXd unit = loose.cwiseSqrt().cwiseInverse();
  Eigen::MatrixXd precision = unit.asDiagonal() * gram * unit.asDiagonal();
  precision.diagonal().array() += 1.0;
  Eigen::MatrixXd yield = unit.asDiagonal() * precision.llt().solve(Eigen::MatrixXd::Identity(n, n));
  yield = yield * unit.asDiagonal();
  for (Eigen::Index a = 0; a < n; ++a)
    if (yield(a, a) > 0.0) yield.col(a) /= yield(a, a);
  return yield;
}

Eigen::MatrixXd kinship_of(const Eigen::MatrixXd& gram) {
  const Eigen::Index n = gram.rows();
  Eigen::MatrixXd kinship = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index a = 0; a < n; ++a) {
    double sum = 0.0;
    for (Eigen::Index b = 0; b < n; ++b) {
      const double both = gram(a, a) * gram(b, b);
      if (b != a && both > 0.0) sum += gram(a, b) * gram(a, b) / both + strangers;
      kinship(b, a) = sum;
    }
    if (sum > 0.0) kinship.col(a) /= sum;
  }
  return kinship;
}

}  // namespace

StandIn::StandIn(const Suspects& suspects, const std::vector<Reading>& readings, const std::vector<double>& noise)
    : suspects_(&suspects), readings_(readings), noise_(noise), power_(suspects.unknowns.size(), 0.0) {
  value_.resize(static_cast<Eigen::Index>(readings.size()));
  per_noise_.resize(value_.size());
  for (Eigen::Index i = 0; i < value_.size(); ++i) {
    const auto r = static_cast<std::size_t>(i);
    value_[i] = readings[r].value;
    per_noise_[i] = 1.0 / noise[r];
    if (as_it_is(readings[r].instrument)) as_they_are_.push_back(i);
    if (readings[r].instrument == Instrument::flow) flows_.push_back(i);
  }
  for (const Reading& reading : readings) {
    offset_.push_back(-1);
    for (std::size_t k = 0; k < suspects.unknowns.size(); ++k)
      if (suspects.unknowns[k].error_of(reading.instrument, reading.at)) offset_.back() = static_cast<Eigen::Index>(k);
  }
  int sources = 0;
  for (std::size_t k = 0; k < suspects.unknowns.size(); ++k) {
    const Unknown& u = suspects.unknowns[k];
    if (u.what == What::blockage) power_[k] = power_of(suspects.line.elements[u.element].kind);
    if (u.what != What::pump_flow) continue;
    pump_ = static_cast<Eigen::Index>(k);
    ++sources;
  }
  if (sources != 1) pump_ = -1;
}

void StandIn::add(std::span<const double> z, std::span<const double> residuals, std::span<const double> slopes) {
  const auto n = static_cast<Eigen::Index>(z.size());
  const auto m = static_cast<Eigen::Index>(readings_.size());
  const auto at = [&](Eigen::Index k) { return suspects_->unknowns[static_cast<std::size_t>(k)].prior.at(z[k]); };
  const double pump = pump_ < 0 ? 1.0 : at(pump_);
  Anchor anchor;
  anchor.w.resize(n);
  anchor.loose.resize(n);
  Eigen::VectorXd dw(n);
  for (Eigen::Index k = 0; k < n; ++k) {
    const double v = at(k);
    anchor.w[k] = coordinate(k, v, pump);
    dw[k] = stretch(k, z[k], v, anchor.w[k], pump);
    anchor.loose[k] = dw[k] == 0.0 ? 1e300 : 1.0 / (dw[k] * dw[k]);
  }
  anchor.base.resize(m);
  anchor.slopes.setZero(m, n);
  Eigen::MatrixXd moves = Eigen::MatrixXd::Zero(m, n);
  for (Eigen::Index i = 0; i < m; ++i) {
    const auto r = static_cast<std::size_t>(i);
    const Eigen::Index own = offset_[r];
    const double shown = readings_[r].value + noise_[r] * residuals[r], offset = own < 0 ? 0.0 : at(own);
    const Instrument instrument = readings_[r].instrument;
    const double bare = instrument == Instrument::flow ? shown / (1.0 + offset) : shown - offset;
    const double floor = is_gauge(instrument) ? 1.0 : 1e-12;  // [Pa], [kg/s]
    const bool linear = as_it_is(instrument);
    const double base = linear ? bare : std::max(bare, floor);
    const double unit = (instrument == Instrument::flow ? 1.0 + offset : 1.0) * (linear ? 1.0 : base) / noise_[r];
    anchor.base[i] = linear ? base : std::log(base);
    for (Eigen::Index k = 0; k < n; ++k)
      if (k != own && dw[k] != 0.0) anchor.slopes(i, k) = slopes[r * z.size() + k] / (unit * dw[k]);
    if (pump_ >= 0)  // the leaks' coordinates move with the pump's factor; its own slope is at fixed coordinates
      for (Eigen::Index k = 0; k < n; ++k)
        if (per_pump(k)) anchor.slopes(i, pump_) += anchor.slopes(i, k) * anchor.w[k];
    moves.row(i) = unit * anchor.slopes.row(i);
    if (own >= 0) moves(i, own) = dw[own] == 0.0 ? 0.0 : slopes[r * z.size() + static_cast<std::size_t>(own)] / dw[own];
  }
  anchor.gram = moves.transpose() * moves;
  for (Eigen::Index i = 0; i < m; ++i)
    if (const Eigen::Index own = offset_[static_cast<std::size_t>(i)]; own >= 0) moves(i, own) = 0.0;
  anchor.pull = moves.colwise().squaredNorm();
  anchor.kinship = kinship_of(anchor.gram);
  anchor.yield = yield_of(anchor.gram, anchor.loose);
  if (anchor.slopes.allFinite() && anchor.base.allFinite() && anchor.gram.allFinite())
    anchors_.push_back(std::move(anchor));
}

/// Readings without their offsets; all exponentials at once, as they are what the walk spends most on.
void StandIn::bare(const Anchor& anchor, const Eigen::VectorXd& eta, Eigen::ArrayXd& out) const {
  out = eta.array().min(anchor.base.array() + 3.0).exp();
  for (const Eigen::Index i : as_they_are_) out[i] = eta[i];
}

double StandIn::misfit(const Anchor& anchor, const Eigen::VectorXd& eta, const Eigen::VectorXd& values, double moved,
                       Eigen::ArrayXd& shown) const {
  bare(anchor, eta, shown);
  const auto offset = [&](Eigen::Index i) {
    const Eigen::Index own = offset_[static_cast<std::size_t>(i)];
    return own < 0 ? 0.0 : values[own];
  };
  // A flow meter is off by a share of what it shows: b (1 + o) = (b + (b - 1) o) + o, so that all may add their own o.
  for (const Eigen::Index i : flows_) shown[i] += (shown[i] - 1.0) * offset(i);
  for (Eigen::Index i = 0; i < shown.size(); ++i) shown[i] += offset(i);
  const double wider = 1.0 + doubt * doubt * moved;
  return ((shown - value_) * per_noise_).square().sum() / wider + static_cast<double>(shown.size()) * std::log(wider);
}

void StandIn::linearise(const Anchor& anchor, const Eigen::VectorXd& eta, const Eigen::VectorXd& values,
                        const Eigen::VectorXd& w, const Eigen::VectorXd& dw, double moved, Eigen::VectorXd& residuals,
                        Eigen::MatrixXd& slopes) const {
  const double trust = 1.0 / std::sqrt(1.0 + doubt * doubt * moved);
  const Eigen::Index n = w.size();
  residuals.resize(static_cast<Eigen::Index>(readings_.size()));
  Eigen::ArrayXd without_offset;
  bare(anchor, eta, without_offset);
  slopes.resize(residuals.size(), n);
  for (std::size_t r = 0; r < readings_.size(); ++r) {
    const auto i = static_cast<Eigen::Index>(r);
    const Eigen::Index own = offset_[r];
    const double offset = own < 0 ? 0.0 : values[own];
    const Instrument instrument = readings_[r].instrument;
    const double bare_one = without_offset[i];
    const double factor = instrument == Instrument::flow ? 1.0 + offset : 1.0;
    const double shown = instrument == Instrument::flow ? bare_one * factor : bare_one + offset;
    const double scale = trust / noise_[r];
    residuals[i] = scale * (shown - readings_[r].value);
    const double unit = scale * factor * (as_it_is(instrument) ? 1.0 : bare_one);
    slopes.row(i) = unit * anchor.slopes.row(i).cwiseProduct(dw.transpose());
    if (pump_ >= 0) {
      double of_pump = anchor.slopes(i, pump_);
      for (Eigen::Index k = 0; k < n; ++k)
        if (per_pump(k)) of_pump -= anchor.slopes(i, k) * w[k];
      slopes(i, pump_) = unit * of_pump * dw[pump_];
    }
    if (own >= 0) slopes(i, own) = scale * dw[own] * (instrument == Instrument::flow ? bare_one : 1.0);
  }
}

}  // namespace airtally::hunt
