#include "hunt/samples/sample.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <numeric>
#include <tuple>

#include "hunt/samples/convergence.hpp"
#include "hunt/samples/fitted_private.hpp"
#include "hunt/samples/normals_private.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

constexpr double to_spare =
    1.5;  ///< by which the draws of all turns must promise more than enough, or more places are drawn from
/// Beyond which no turn begins, in elements solved at all settings: where every other draw has no solution, as with a
/// dozen readings that are all but the same, more of them bring little, and a minute is long at a bench. A dozen
/// elements in six settings take all turns with half of that.
constexpr double most_work = 15e6;
constexpr std::size_t heavy = 6;  ///< how many more

/// One of several independent lots of draws, on a line of its own, so that no answer hangs on who solved before.
class Population {
 public:
  Population(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench, std::uint64_t seed)
      : evidence_(suspects, readings, bench), normals_(seed), unknowns_(suspects.unknowns.size()) {}

  /// The peaks take turns, each by its share: multiples of the golden ratio past a random start, which any stretch of
  /// draws has evenly spread.
  void draw(const std::vector<Mode>& modes, std::size_t count) {
    if (!fitted_) fitted_ = std::make_unique<Fitted>(evidence_, modes);
    const double start = normals_.uniform();
    for (std::size_t i = 0; i < count; ++i) {
      const double turns = start + static_cast<double>(i) / std::numbers::phi;
      const std::optional<Fitted::Draw> one = fitted_->draw(turns - std::floor(turns), normals_);
      log_weight.push_back(one ? one->log_weight : no_weight);
      z.push_back(one ? std::vector<double>(one->z.begin(), one->z.end()) : std::vector<double>(unknowns_, 0.0));
    }
  }

  /// Draws from these places as well, from now on, and forgets what it has drawn.
  void draw_from(const std::vector<Eigen::VectorXd>& places) {
    fitted_->add(places);
    z.clear();
    log_weight.clear();
  }

  std::size_t late() const { return fitted_->late(); }
  std::size_t evaluations() const { return evidence_.evaluations; }

  static constexpr double no_weight = -1e300;
  std::vector<std::vector<double>> z;  ///< per draw; what has no solution stands in without weight
  std::vector<double> log_weight;

 private:
  Evidence evidence_;
  Normals normals_;
  std::size_t unknowns_;
  std::unique_ptr<Fitted> fitted_;  // made by the thread that draws
};

Samples weighed(const std::vector<std::unique_ptr<Population>>& populations) {
  Samples samples;
  samples.populations = populations.size();
  double top = Population::no_weight, total = 0.0, squares = 0.0;
  std::size_t late = 0;
  for (const auto& one : populations)
    for (double w : one->log_weight) top = std::max(top, w);
  for (const auto& one : populations) {
    samples.z.insert(samples.z.end(), one->z.begin(), one->z.end());
    for (double w : one->log_weight) samples.weight.push_back(w > Population::no_weight ? std::exp(w - top) : 0.0);
    samples.evaluations += one->evaluations();
    late += one->late();
  }
  samples.lost = static_cast<double>(late) / static_cast<double>(samples.z.size());
  for (double w : samples.weight) total += w;
  if (!(total > 0.0)) return samples;
  for (double& w : samples.weight) {
    w /= total;
    squares += w * w;
  }
  samples.efficiency = 1.0 / squares / static_cast<double>(samples.z.size());
  const Convergence convergence = convergence_of(samples.z, populations.size(), samples.weight);
  samples.effective = convergence.effective;
  samples.r_hat = convergence.r_hat;
  return samples;
}

/// How many settings were read in.
std::size_t settings_of(const std::vector<Reading>& readings) {
  std::vector<Setting> all;
  for (const Reading& reading : readings)
    if (std::find(all.begin(), all.end(), reading.setting) == all.end()) all.push_back(reading.setting);
  return all.size();
}

/// Where the most weight lies: where draws are too rare.
std::vector<Eigen::VectorXd> heaviest(const Samples& samples) {
  std::vector<std::size_t> order(samples.z.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const std::size_t some = std::min(heavy, order.size());
  std::partial_sort(
      order.begin(), order.begin() + static_cast<std::ptrdiff_t>(some), order.end(),
      [&](std::size_t a, std::size_t b) { return std::tie(samples.weight[b], a) < std::tie(samples.weight[a], b); });
  std::vector<Eigen::VectorXd> places;
  for (std::size_t i = 0; i < some; ++i) {
    const std::vector<double>& z = samples.z[order[i]];
    if (samples.weight[order[i]] > 0.0)
      places.push_back(Eigen::VectorXd::Map(z.data(), static_cast<Eigen::Index>(z.size())));
  }
  return places;
}

/// The peaks themselves, by their mass: what is left where no draw around them is a state of the line, as with readings
/// that contradict each other.
Samples peaks_alone(const std::vector<Mode>& modes) {
  Samples samples;
  double total = 0.0, squares = 0.0;
  for (const Mode& mode : modes) {  // the first has the most
    samples.z.push_back(mode.z);
    samples.weight.push_back(std::exp(mode.log_evidence - modes.front().log_evidence));
    total += samples.weight.back();
  }
  for (double& w : samples.weight) {
    w /= total;
    squares += w * w;
  }
  samples.effective = 1.0 / squares;
  samples.efficiency = 0.0;
  return samples;
}

}  // namespace

SampleOptions quick_options(std::uint64_t seed) {
  SampleOptions options;
  options.count = 192;
  options.populations = 2;
  options.turns = 1;
  options.seed = seed;
  return options;
}

Samples sample(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
               const std::vector<Mode>& modes, const SampleOptions& options) {
  const auto count = static_cast<std::size_t>(std::max(options.populations, 1));
  const std::size_t each = std::max<std::size_t>(options.count / count, 4);
  std::vector<std::unique_ptr<Population>> populations;
  for (std::size_t p = 0; p < count; ++p)
    populations.push_back(
        std::make_unique<Population>(suspects, readings, bench, options.seed * 1000003ULL + p * 7919ULL));
  const double each_takes = static_cast<double>(settings_of(readings) * suspects.line.elements.size());
  Samples best;
  int since = 0;  // turns since all was drawn anew
  for (int turn = 1; turn <= options.turns; ++turn) {
    study::parallel(count, study::processors(), [&](std::size_t p) { populations[p]->draw(modes, each); });
    Samples samples = weighed(populations);
    if (turn == 1 || samples.effective > best.effective) best = samples;
    if (options.progress) options.progress(static_cast<double>(turn) / options.turns);
    if (best.converged() || static_cast<double>(samples.evaluations) * each_takes > most_work) break;
    const double promised = samples.effective * (1.0 + static_cast<double>(options.turns - turn) / ++since);
    if (promised >= to_spare * fewest_effective || turn == options.turns) continue;
    since = 0;
    const std::vector<Eigen::VectorXd> places = heaviest(samples);
    for (const auto& one : populations) one->draw_from(places);
  }
  return best.effective > 0.0 ? best : peaks_alone(modes);
}

Samples prior_sample(const Suspects& suspects, std::size_t count, std::uint64_t seed) {
  Normals normals(seed);
  Samples samples;
  samples.effective = static_cast<double>(count);
  samples.weight.assign(count, 1.0 / static_cast<double>(count));
  samples.z.reserve(count);
  for (std::size_t s = 0; s < count; ++s) {
    const Eigen::VectorXd z = normals.normals(static_cast<Eigen::Index>(suspects.unknowns.size()));
    samples.z.emplace_back(z.data(), z.data() + z.size());
  }
  return samples;
}

}  // namespace airtally::hunt
