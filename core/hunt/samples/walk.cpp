#include <cmath>

#include "hunt/samples/walk_private.hpp"

namespace airtally::hunt {
namespace {

bool finish(const StandIn& stand_in, Stand& stand) {
  const auto& anchors = stand_in.anchors();
  if (anchors.empty() || !stand.w.allFinite()) return false;
  stand.moved.resize(static_cast<Eigen::Index>(anchors.size()));
  for (Eigen::Index a = 0; a < stand.moved.size(); ++a) {
    const StandIn::Anchor& anchor = anchors[static_cast<std::size_t>(a)];
    stand.moved[a] = anchor.pull.dot((stand.w - anchor.w).cwiseAbs2());
  }
  const double nearest = stand.moved.minCoeff(&stand.anchor);
  const StandIn::Anchor& anchor = anchors[static_cast<std::size_t>(stand.anchor)];
  stand.eta = anchor.base;
  stand.eta.noalias() += anchor.slopes * (stand.w - anchor.w);
  stand.misfit = stand_in.misfit(anchor, stand.eta, stand.values, nearest, stand.shown);
  stand.squares = stand.z.squaredNorm();
  return std::isfinite(stand.misfit);
}

}  // namespace

bool put(const StandIn& stand_in, const Eigen::VectorXd& z, Stand& stand) {
  const Eigen::Index n = z.size();
  stand.z = z;
  stand.values.resize(n);
  stand.w.resize(n);
  stand.dw.resize(n);
  for (Eigen::Index k = 0; k < n; ++k)
    stand.values[k] = stand_in.suspects().unknowns[static_cast<std::size_t>(k)].prior.at(z[k]);
  const double pump = stand_in.pump() < 0 ? 1.0 : stand.values[stand_in.pump()];
  for (Eigen::Index k = 0; k < n; ++k) {
    stand.w[k] = stand_in.coordinate(k, stand.values[k], pump);
    stand.dw[k] = stand_in.stretch(k, z[k], stand.values[k], stand.w[k], pump);
  }
  return finish(stand_in, stand);
}

bool put_coordinates(const StandIn& stand_in, const Stand& from, const Eigen::VectorXd& w, Stand& stand) {
  const Eigen::Index n = w.size();
  stand.w = w;
  stand.z.resize(n);
  stand.values.resize(n);
  stand.dw.resize(n);
  const double pump = stand_in.pump() < 0 ? 1.0 : stand_in.value(stand_in.pump(), w[stand_in.pump()], 1.0);
  for (Eigen::Index k = 0; k < n; ++k) {
    const Prior& prior = stand_in.suspects().unknowns[static_cast<std::size_t>(k)].prior;
    stand.values[k] = stand_in.value(k, w[k], pump);
    stand.z[k] = from.dw[k] == 0.0 ? from.z[k] : prior.z_of(stand.values[k]);
    if (!(std::fabs(stand.z[k]) < farthest)) return false;
    stand.dw[k] = stand_in.stretch(k, stand.z[k], stand.values[k], w[k], pump);
  }
  return finish(stand_in, stand);
}

bool put_some(const StandIn& stand_in, const Stand& from, std::span<const Eigen::Index> unknowns,
              std::span<const double> z, Stand& stand) {
  stand = from;
  const auto& anchors = stand_in.anchors();
  const double pump = stand_in.pump() < 0 ? 1.0 : stand.values[stand_in.pump()];
  for (std::size_t i = 0; i < unknowns.size(); ++i) {
    const Eigen::Index k = unknowns[i];
    const double before = stand.w[k];
    stand.squares += z[i] * z[i] - stand.z[k] * stand.z[k];
    stand.z[k] = z[i];
    stand.values[k] = stand_in.suspects().unknowns[static_cast<std::size_t>(k)].prior.at(z[i]);
    stand.w[k] = stand_in.coordinate(k, stand.values[k], pump);
    stand.dw[k] = stand_in.stretch(k, z[i], stand.values[k], stand.w[k], pump);
    const double step = stand.w[k] - before;
    for (Eigen::Index a = 0; a < stand.moved.size(); ++a) {
      const StandIn::Anchor& anchor = anchors[static_cast<std::size_t>(a)];
      stand.moved[a] += anchor.pull[k] * step * (stand.w[k] + before - 2.0 * anchor.w[k]);
    }
    stand.eta += step * anchors[static_cast<std::size_t>(from.anchor)].slopes.col(k);
  }
  const double nearest = std::max(stand.moved.minCoeff(&stand.anchor), 0.0);
  const StandIn::Anchor& anchor = anchors[static_cast<std::size_t>(stand.anchor)];
  if (stand.anchor != from.anchor) {
    stand.eta = anchor.base;
    stand.eta.noalias() += anchor.slopes * (stand.w - anchor.w);
  }
  stand.misfit = stand_in.misfit(anchor, stand.eta, stand.values, nearest, stand.shown);
  return std::isfinite(stand.misfit);
}

void try_step(const StandIn& stand_in, Stand& stand, Eigen::Index k, double z, Step& step) {
  const double pump = stand_in.pump() < 0 ? 1.0 : stand.values[stand_in.pump()];
  step.unknown = k;
  step.z = z;
  step.value = stand_in.suspects().unknowns[static_cast<std::size_t>(k)].prior.at(z);
  step.w = stand_in.coordinate(k, step.value, pump);
  step.dw = stand_in.stretch(k, z, step.value, step.w, pump);
  const auto& anchors = stand_in.anchors();
  const double from = stand.w[k];
  step.moved = stand.moved;
  for (Eigen::Index a = 0; a < step.moved.size(); ++a) {
    const StandIn::Anchor& anchor = anchors[static_cast<std::size_t>(a)];
    step.moved[a] += anchor.pull[k] * (step.w - from) * (step.w + from - 2.0 * anchor.w[k]);
  }
  const double nearest = std::max(step.moved.minCoeff(&step.anchor), 0.0);
  const StandIn::Anchor& anchor = anchors[static_cast<std::size_t>(step.anchor)];
  if (step.anchor == stand.anchor) {
    step.eta = stand.eta;
    step.eta += (step.w - from) * anchor.slopes.col(k);
  } else {
    stand.w[k] = step.w;
    step.eta = anchor.base;
    step.eta.noalias() += anchor.slopes * (stand.w - anchor.w);
    stand.w[k] = from;
  }
  const double value = stand.values[k];
  stand.values[k] = step.value;
  step.misfit = stand_in.misfit(anchor, step.eta, stand.values, nearest, step.shown);
  stand.values[k] = value;
  step.squares = stand.squares + z * z - stand.z[k] * stand.z[k];
}

void take(Stand& stand, Step& step) {
  const Eigen::Index k = step.unknown;
  stand.z[k] = step.z;
  stand.values[k] = step.value;
  stand.w[k] = step.w;
  stand.dw[k] = step.dw;
  stand.moved.swap(step.moved);
  stand.eta.swap(step.eta);
  stand.anchor = step.anchor;
  stand.misfit = step.misfit;
  stand.squares = step.squares;
}

}  // namespace airtally::hunt
