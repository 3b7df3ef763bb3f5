#include "solve/ripple.hpp"

#include <Eigen/Dense>
#include <complex>
#include <numbers>

namespace airtally::solve {

std::vector<double> ripple_shares(const Network& network, const Evaluation& evaluation, std::size_t source,
                                  double frequency) {
  const auto n = static_cast<Eigen::Index>(network.nodes.size());
  const std::vector<bool> fed = network.fed();
  Eigen::MatrixXcd matrix = Eigen::MatrixXcd::Zero(n, n);
  Eigen::VectorXcd right = Eigen::VectorXcd::Zero(n);
  const std::complex<double> i_omega(0.0, 2.0 * std::numbers::pi * frequency);
  const double storage = 1.0 / (gas::gamma * network.air.rt);
  for (Eigen::Index k = 0; k < n; ++k)
    matrix(k, k) = i_omega * network.nodes[static_cast<std::size_t>(k)].volume * storage;
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    if (path.mode == Mode::closed) continue;
    const laws::Flow& flow = evaluation.flow[k];
    if (path.a >= 0) {
      matrix(path.a, path.a) += flow.dm_dp1;
      if (path.b >= 0) matrix(path.a, path.b) += flow.dm_dp2;
    }
    if (path.b >= 0) {
      matrix(path.b, path.b) -= flow.dm_dp2;
      if (path.a >= 0) matrix(path.b, path.a) -= flow.dm_dp1;
    }
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s)
    matrix(network.sources[s].node, network.sources[s].node) += evaluation.pull[s].dm_dp;
  for (Eigen::Index k = 0; k < n; ++k) {
    const bool given = k == network.sources[source].node;
    if (!given && fed[static_cast<std::size_t>(k)]) continue;
    matrix.row(k).setZero();
    matrix(k, k) = 1.0;
    right(k) = given ? 1.0 : 0.0;
  }
  const Eigen::VectorXcd answer = matrix.partialPivLu().solve(right);
  std::vector<double> shares;
  for (Eigen::Index k = 0; k < n; ++k) shares.push_back(std::abs(answer(k)));
  return shares;
}

}  // namespace airtally::solve
