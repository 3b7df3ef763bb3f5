#include <algorithm>

#include "hunt/samples/mixture_private.hpp"

namespace airtally::hunt {
namespace {

constexpr double of_tails = 0.2;  ///< share of the mixture

}  // namespace

double log_sum(const std::vector<double>& logs) {
  const double top = *std::max_element(logs.begin(), logs.end());
  double sum = 0.0;
  for (double value : logs) sum += std::exp(value - top);
  return top + std::log(sum);
}

Mixture::Mixture(const std::vector<Mode>& modes) {
  std::vector<double> logs;
  for (const Mode& mode : modes) logs.push_back(mode.log_evidence);
  const double total = log_sum(logs);
  informed_.assign(modes.front().z.size(), false);
  for (const Mode& mode : modes)  // the precision of what no slope touches is exactly 1
    for (std::size_t k = 0; k < mode.z.size(); ++k)
      if (mode.precision[k * mode.z.size() + k] != 1.0 || mode.z[k] != 0.0) informed_[k] = true;
  double share = 0.0;
  for (const Mode& mode : modes) {
    const auto n = static_cast<Eigen::Index>(mode.z.size());
    Component c;
    c.centre = Eigen::Map<const Eigen::VectorXd>(mode.z.data(), n);
    c.factor = Eigen::LLT<Eigen::MatrixXd>(Eigen::Map<const Eigen::MatrixXd>(mode.precision.data(), n, n)).matrixU();
    // Half of the share is dealt out evenly: the mass under a normal distribution may be far from the peak's own.
    const double own = 0.5 * std::exp(mode.log_evidence - total) + 0.5 / static_cast<double>(modes.size());
    share += own;
    c.share = share;
    c.log_weight = std::log(own) + c.factor.diagonal().array().log().sum();
    components_.push_back(std::move(c));
  }
}

void Mixture::add(const std::vector<Probe>& tails) {
  if (tails.empty()) return;
  for (Component& c : components_) {
    c.share *= 1.0 - of_tails;
    c.log_weight += std::log(1.0 - of_tails);
  }
  const double each = of_tails / static_cast<double>(tails.size());
  for (const Probe& tail : tails) {
    Component c;
    c.centre = tail.z;
    Eigen::MatrixXd precision = tail.slopes.transpose() * tail.slopes;
    precision.diagonal().array() += 1.0;
    c.factor = precision.llt().matrixU();
    c.share = components_.back().share + each;
    c.log_weight = std::log(each) + c.factor.diagonal().array().log().sum();
    components_.push_back(std::move(c));
  }
}

Eigen::VectorXd Mixture::draw(Normals& normals) const {
  const double u = normals.uniform() * components_.back().share;
  const auto c =
      std::find_if(components_.begin(), components_.end() - 1, [&](const Component& k) { return u < k.share; });
  return c->centre + c->factor.triangularView<Eigen::Upper>().solve(normals.normals(c->centre.size()));
}

double Mixture::log_density(const Eigen::VectorXd& z) const {
  std::vector<double> logs;
  for (const Component& c : components_)
    logs.push_back(c.log_weight - 0.5 * (c.factor.triangularView<Eigen::Upper>() * (z - c.centre)).squaredNorm());
  return log_sum(logs);
}

}  // namespace airtally::hunt
