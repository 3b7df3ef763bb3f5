#include <algorithm>

#include "hunt/samples/convergence.hpp"
#include "hunt/samples/fitted_private.hpp"
#include "hunt/samples/fitted_samples_private.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

constexpr double too_many_lost = 0.5;  ///< share of the first draws that are lost
constexpr std::size_t most_turns = 3;
constexpr std::size_t pilot = 24;  ///< draws of each population after which that is looked at

/// What one population has drawn.
struct Drawn {
  std::vector<std::vector<double>> z;
  std::vector<double> log_weight;  ///< -1e300: lost
  std::size_t lost = 0;
};

void draw(Fitted& fitted, Normals& normals, std::size_t count, std::size_t unknowns, Drawn& drawn) {
  for (std::size_t i = 0; i < count; ++i) {
    const double at = (static_cast<double>(i) + normals.uniform()) / static_cast<double>(count);
    const std::optional<Fitted::Draw> one = fitted.draw(at, normals);
    drawn.lost += !one;
    drawn.log_weight.push_back(one ? one->log_weight : -1e300);
    if (one)
      drawn.z.emplace_back(one->z.begin(), one->z.end());
    else
      drawn.z.emplace_back(unknowns, 0.0);  // without weight; it keeps the populations alike in number
  }
}

Samples weighed(const std::vector<Drawn>& populations) {
  Samples samples;
  double top = -1e300, total = 0.0, squares = 0.0;
  for (const Drawn& drawn : populations)
    for (double w : drawn.log_weight) top = std::max(top, w);
  for (const Drawn& drawn : populations) {
    samples.z.insert(samples.z.end(), drawn.z.begin(), drawn.z.end());
    for (double w : drawn.log_weight) samples.weight.push_back(w > -1e299 ? std::exp(w - top) : 0.0);
  }
  for (double w : samples.weight) total += w;
  if (!(total > 0.0)) return samples;
  for (double& w : samples.weight) {
    w /= total;
    squares += w * w;
  }
  samples.efficiency = 1.0 / squares / static_cast<double>(samples.z.size());
  samples.populations = populations.size();
  const Convergence convergence = convergence_of(samples.z, populations.size(), samples.weight);
  samples.effective = convergence.effective;
  samples.r_hat = convergence.r_hat;
  return samples;
}

}  // namespace

std::optional<Samples> fitted_samples(const std::vector<std::unique_ptr<Evidence>>& evidence,
                                      const std::vector<Mode>& modes, const SampleOptions& options) {
  const std::size_t count = evidence.size(), each = std::max<std::size_t>(options.count / count, 4);
  std::vector<Drawn> drawn(count);
  std::vector<Normals> normals;
  std::vector<std::unique_ptr<Fitted>> fitted(count);
  for (std::size_t p = 0; p < count; ++p) normals.emplace_back(options.seed * 1000003ULL + p * 7919ULL + 1);
  const auto lost = [&] {
    std::size_t all = 0, gone = 0;
    for (const Drawn& one : drawn) {
      all += one.z.size();
      gone += one.lost;
    }
    return static_cast<double>(gone) / static_cast<double>(all);
  };
  const auto draw_each = [&](std::size_t some) {
    study::parallel(count, study::processors(), [&](std::size_t p) {
      if (!fitted[p]) fitted[p] = std::make_unique<Fitted>(*evidence[p], modes);
      draw(*fitted[p], normals[p], some, modes.front().z.size(), drawn[p]);
    });
  };
  draw_each(std::min(pilot, each));
  if (lost() > too_many_lost) return std::nullopt;
  if (each > pilot) draw_each(each - pilot);
  for (std::size_t turn = 1;; ++turn) {
    Samples samples = weighed(drawn);
    for (const auto& one : evidence) samples.evaluations += one->evaluations;
    samples.lost = lost();
    if (samples.converged() || turn == most_turns) return samples;
    draw_each(each);
  }
}

}  // namespace airtally::hunt
