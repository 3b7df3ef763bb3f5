#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "hunt/next/information.hpp"
#include "hunt/samples/normals_private.hpp"

namespace airtally::hunt {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr Index tried = 384;  ///< samples at most that the integral is a sum over

/// Samples with weight, a column each, and what they stand for.
struct Cloud {
  MatrixXd at;                     ///< readings, a row each
  VectorXd weight;                 ///< adding up to 1
  std::vector<std::size_t> worst;  ///< per column
  MatrixXd slope;                  ///< of what was taken off each row with the first reading
};

Cloud cloud_of(std::span<const std::vector<double>> readings, std::span<const std::size_t> worst,
               std::span<const double> weight) {
  std::vector<std::size_t> kept;
  for (std::size_t s = 0; s < weight.size(); ++s)
    if (weight[s] > 0.0) kept.push_back(s);
  const auto n = static_cast<Index>(kept.size()), rows = static_cast<Index>(readings.size());
  Cloud cloud{MatrixXd(rows, n), VectorXd(n), {}, MatrixXd::Zero(rows, n)};
  for (Index c = 0; c < n; ++c) {
    const std::size_t s = kept[static_cast<std::size_t>(c)];
    for (Index r = 0; r < rows; ++r) cloud.at(r, c) = readings[static_cast<std::size_t>(r)][s];
    cloud.weight[c] = weight[s];
    cloud.worst.push_back(worst[s]);
  }
  return cloud;
}

/// Takes off every other row what follows from the first: a cubic of it, by weighted least squares.
void take_off_the_common(Cloud& cloud) {
  const double middle = cloud.weight.dot(cloud.at.row(0).transpose());
  const VectorXd from = cloud.at.row(0).transpose().array() - middle;
  const double spread = std::sqrt(cloud.weight.dot(from.cwiseAbs2()));
  if (!(spread > 0.0)) return;
  const VectorXd u = from / spread;
  MatrixXd powers(u.size(), 4);
  powers << VectorXd::Ones(u.size()), u, u.cwiseAbs2(), u.array().cube().matrix();
  const VectorXd root = cloud.weight.cwiseSqrt();
  const auto solver = (root.asDiagonal() * powers).colPivHouseholderQr();
  for (Index r = 1; r < cloud.at.rows(); ++r) {
    const VectorXd c = solver.solve(root.cwiseProduct(cloud.at.row(r).transpose()));
    cloud.at.row(r) -= (powers * c).transpose();
    cloud.slope.row(r) = ((c[1] + 2.0 * c[2] * u.array() + 3.0 * c[3] * u.array().square()) / spread).transpose();
  }
}

/// The samples in which one element is the worst, seen in the units of their own kernels.
struct Class {
  std::vector<Index> columns;
  double share = 0.0;
  MatrixXd root;          ///< lower triangular, root root^T the covariance of a kernel
  MatrixXd at;            ///< root^-1 times the samples
  double log_peak = 0.0;  ///< log of a kernel's height, up to (2 pi)^(-rows/2)
};

/// Of the first `rows` rows.
std::vector<Class> classes_of(const Cloud& cloud, std::span<const double> noise, std::size_t elements, Index rows) {
  std::vector<Class> all(elements);
  for (std::size_t c = 0; c < cloud.worst.size(); ++c) all[cloud.worst[c]].columns.push_back(static_cast<Index>(c));
  std::erase_if(all, [](const Class& one) { return one.columns.empty(); });
  for (Class& one : all) {
    const MatrixXd at = cloud.at(Eigen::seqN(0, rows), one.columns);
    VectorXd weight = cloud.weight(one.columns);
    one.share = weight.sum();
    weight /= one.share;
    const VectorXd mean = at * weight;
    const MatrixXd off = at.colwise() - mean;
    const double count = 1.0 / weight.squaredNorm();  // effective
    const double narrower = 0.9 * std::pow(count, -1.0 / static_cast<double>(rows + 4));
    MatrixXd kernel = narrower * narrower * off * weight.asDiagonal() * off.transpose();
    // Noise of what is left of a row: its own, and the first reading's by the mean slope that was taken off.
    MatrixXd mix = MatrixXd::Identity(rows, rows);
    mix.col(0).tail(rows - 1) = -(cloud.slope(Eigen::seqN(1, rows - 1), one.columns) * weight);
    VectorXd variance(rows);
    for (Index r = 0; r < rows; ++r)
      variance[r] = noise[static_cast<std::size_t>(r)] * noise[static_cast<std::size_t>(r)];
    kernel += mix * variance.asDiagonal() * mix.transpose();
    one.root = kernel.llt().matrixL();
    one.at = one.root.triangularView<Eigen::Lower>().solve(at);
    one.log_peak = -one.root.diagonal().array().log().sum();
  }
  return all;
}

/// Mutual information of the first `rows` rows with which element is the worst [bit].
double bits_of(const Cloud& cloud, std::span<const double> noise, std::size_t elements, Index rows,
               const MatrixXd& moves) {
  const std::vector<Class> classes = classes_of(cloud, noise, elements, rows);
  std::vector<const Class*> of(static_cast<std::size_t>(cloud.weight.size()));
  for (const Class& one : classes)
    for (Index c : one.columns) of[static_cast<std::size_t>(c)] = &one;
  double bits = 0.0, weights = 0.0;
  for (Index t = 0; t < moves.cols(); ++t) {
    const Index c = t * cloud.weight.size() / moves.cols();
    const Class& own = *of[static_cast<std::size_t>(c)];
    const VectorXd point = cloud.at.col(c).head(rows) + own.root * moves.col(t).head(rows);
    double all = 0.0, its = 0.0;
    for (const Class& one : classes) {
      const VectorXd seen = one.root.triangularView<Eigen::Lower>().solve(point);
      const Eigen::ArrayXd square = (one.at.colwise() - seen).colwise().squaredNorm().transpose();
      const double density = std::exp(one.log_peak) * (cloud.weight(one.columns).array() * (-0.5 * square).exp()).sum();
      all += density;
      if (&one == &own) its = density;
    }
    weights += cloud.weight[c];
    if (its > 0.0) bits += cloud.weight[c] * (std::log2(its) - std::log2(own.share) - std::log2(all));
  }
  return weights > 0.0 ? bits / weights : 0.0;
}

}  // namespace

double bits_beyond_first(std::span<const std::vector<double>> readings, std::span<const std::size_t> worst,
                         std::span<const double> weight, std::span<const double> noise, std::size_t elements) {
  Cloud cloud = cloud_of(readings, worst, weight);
  const Index rows = cloud.at.rows();
  if (cloud.weight.size() < 2) return 0.0;
  take_off_the_common(cloud);
  MatrixXd moves(rows, std::min(tried, cloud.weight.size()));
  Normals normals(1);
  for (Index r = 0; r < rows; ++r) moves.row(r) = normals.normals(moves.cols()).transpose();
  const double together = bits_of(cloud, noise, elements, rows, moves);
  return std::max(0.0, together - bits_of(cloud, noise, elements, 1, moves));
}

}  // namespace airtally::hunt
