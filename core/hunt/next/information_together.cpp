#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>

#include "hunt/next/crowding_private.hpp"
#include "hunt/next/information.hpp"
#include "hunt/samples/normals_private.hpp"

namespace airtally::hunt {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double common = 0.5;  ///< of a row's variance: what must be less when the first is taken off
constexpr Index tried = 384;    ///< samples at most that the integral is a sum over

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
    const Eigen::RowVectorXd left = cloud.at.row(r) - (powers * c).transpose();
    const double mean = cloud.weight.dot(cloud.at.row(r).transpose());
    const double before = cloud.weight.dot((cloud.at.row(r).array() - mean).square().matrix().transpose());
    // What hardly goes with the first would only be bent by it.
    if (!(cloud.weight.dot(left.cwiseAbs2().transpose()) < common * before)) continue;
    cloud.at.row(r) = left;
    cloud.slope.row(r) = ((c[1] + 2.0 * c[2] * u.array() + 3.0 * c[3] * u.array().square()) / spread).transpose();
  }
}

/// Samples in which one element is the worst and whose kernels are alike, seen in the units of these.
struct Alike {
  std::size_t element = 0;
  std::vector<Index> columns;
  VectorXd weight;    ///< of each
  MatrixXd root;      ///< lower triangular, root root^T the covariance of a kernel
  MatrixXd at;        ///< root^-1 times the samples, a row each
  double peak = 0.0;  ///< a kernel's height, but for (2 pi)^(-rows/2)
};

constexpr int levels = 7;  ///< of kernels, each half as wide as the one before; the noise is in all of them

/// Of the first `rows` rows: the noise of what is left of them, their own and the first reading's by what was taken
/// off.
MatrixXd noise_of(const Cloud& cloud, std::span<const double> noise, const std::vector<Index>& columns,
                  const VectorXd& weight, Index rows) {
  MatrixXd mix = MatrixXd::Identity(rows, rows);
  mix.col(0).tail(rows - 1) = -(cloud.slope(Eigen::seqN(1, rows - 1), columns) * weight);
  VectorXd variance(rows);
  for (Index r = 0; r < rows; ++r)
    variance[r] = noise[static_cast<std::size_t>(r)] * noise[static_cast<std::size_t>(r)];
  return mix * variance.asDiagonal() * mix.transpose();
}

/// Samples of one element by the level of their kernels in each row.
using ByLevel = std::map<std::vector<int>, std::vector<Index>>;

/// `deviation`: standard deviation of each row.
ByLevel by_level(const Cloud& cloud, const std::vector<Index>& columns, const VectorXd& deviation) {
  std::vector<std::vector<int>> level(columns.size());
  for (Index r = 0; r < deviation.size(); ++r) {
    const Eigen::RowVectorXd row = cloud.at(r, columns);
    const std::vector<double> narrower = crowding(row / (deviation[r] > 0.0 ? deviation[r] : 1.0));
    for (std::size_t i = 0; i < columns.size(); ++i)
      level[i].push_back(
          std::clamp(static_cast<int>(std::lround(-std::log2(std::max(narrower[i], 1e-9)))), 0, levels - 1));
  }
  ByLevel sorted;
  for (std::size_t i = 0; i < columns.size(); ++i) sorted[level[i]].push_back(columns[i]);
  return sorted;
}

/// Of the first `rows` rows. A kernel is as wide in each row as that row's samples have it.
std::vector<Alike> alike(const Cloud& cloud, std::span<const double> noise, std::size_t elements, Index rows) {
  std::vector<std::vector<Index>> columns(elements);
  for (std::size_t c = 0; c < cloud.worst.size(); ++c) columns[cloud.worst[c]].push_back(static_cast<Index>(c));
  std::vector<Alike> all;
  for (std::size_t e = 0; e < elements; ++e) {
    if (columns[e].empty()) continue;
    const MatrixXd at = cloud.at(Eigen::seqN(0, rows), columns[e]);
    VectorXd weight = cloud.weight(columns[e]);
    weight /= weight.sum();
    const VectorXd mean = at * weight;
    const VectorXd deviation = ((at.colwise() - mean).cwiseAbs2() * weight).cwiseSqrt();
    const MatrixXd of_noise = noise_of(cloud, noise, columns[e], weight, rows);
    const double count = 1.0 / weight.squaredNorm();  // effective
    const double narrower = 0.9 * std::pow(count, -1.0 / static_cast<double>(rows + 4));
    for (const auto& [level, members] : by_level(cloud, columns[e], deviation)) {
      VectorXd width = narrower * deviation;
      for (Index r = 0; r < rows; ++r) width[r] = std::ldexp(width[r], -level[static_cast<std::size_t>(r)]);
      Alike one{e, members, cloud.weight(members), {}, {}, 0.0};
      one.root = (MatrixXd(width.cwiseAbs2().asDiagonal()) + of_noise).llt().matrixL();
      one.at = one.root.triangularView<Eigen::Lower>().solve(cloud.at(Eigen::seqN(0, rows), members)).transpose();
      one.peak = std::exp(-one.root.diagonal().array().log().sum());
      all.push_back(std::move(one));
    }
  }
  return all;
}

/// Mutual information of the first `rows` rows with which element is the worst [bit].
double bits_of(const Cloud& cloud, std::span<const double> noise, std::size_t elements, Index rows,
               const MatrixXd& moves) {
  const std::vector<Alike> groups = alike(cloud, noise, elements, rows);
  std::vector<const Alike*> of(static_cast<std::size_t>(cloud.weight.size()));
  VectorXd share = VectorXd::Zero(static_cast<Index>(elements));
  for (const Alike& one : groups)
    for (Index c : one.columns) {
      of[static_cast<std::size_t>(c)] = &one;
      share[static_cast<Index>(one.element)] += cloud.weight[c];
    }
  double bits = 0.0, weights = 0.0;
  Eigen::ArrayXd squares(cloud.weight.size());
  for (Index t = 0; t < moves.cols(); ++t) {
    const Index c = t * cloud.weight.size() / moves.cols();
    const Alike& own = *of[static_cast<std::size_t>(c)];
    const VectorXd point = cloud.at.col(c).head(rows) + own.root * moves.col(t).head(rows);
    double all = 0.0, its = 0.0;
    for (const Alike& one : groups) {
      const VectorXd seen = one.root.triangularView<Eigen::Lower>().solve(point);
      auto square = squares.head(one.at.rows());
      square.setZero();
      for (Index r = 0; r < rows; ++r) square += (one.at.col(r).array() - seen[r]).square();
      const double density = one.peak * (one.weight.array() * (-0.5 * square).exp()).sum();
      all += density;
      if (one.element == own.element) its += density;
    }
    weights += cloud.weight[c];
    if (its > 0.0)
      bits += cloud.weight[c] * (std::log2(its) - std::log2(share[static_cast<Index>(own.element)]) - std::log2(all));
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
