#include "hunt/samples/sample.hpp"

#include <algorithm>
#include <memory>

#include "hunt/samples/convergence.hpp"
#include "hunt/samples/fitted_samples_private.hpp"
#include "hunt/samples/population_private.hpp"
#include "hunt/samples/probe_private.hpp"
#include "hunt/samples/tails_private.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

constexpr double good_enough = 0.6;  ///< efficiency of the weights at which the stand-in is left as it is
constexpr double hopeless = 0.2;     ///< efficiency below which, mended once, it is tried without a stand-in
constexpr double passable = 0.3;     ///< efficiency of all samples below which they are drawn anew from a mended one
constexpr double agreed = 1.04;      ///< R-hat at which the populations have settled
constexpr double enough = 0.4;       ///< effective share of the samples at which they have

constexpr double enough_fitted = 60.0;  ///< effective fits at which none are led on by the line alone
constexpr std::size_t fewer = 256;      ///< samples that are led on by the line alone
constexpr int long_block = 10;          ///< steps of each between two looks at how they agree

class Sampler {
 public:
  Sampler(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
          const std::vector<Mode>& modes, const SampleOptions& options)
      : options_(options),
        modes_(modes),
        mixture_(modes),
        count_(static_cast<std::size_t>(std::max(options.populations, 1))),
        populations_(count_),
        stand_in_(suspects, readings, Evidence(suspects, readings, bench).noise()) {
    for (std::size_t p = 0; p < count_; ++p) evidence_.push_back(std::make_unique<Evidence>(suspects, readings, bench));
    for (const Mode& mode : modes) {
      Probe probe;
      probe.z = Eigen::Map<const Eigen::VectorXd>(mode.z.data(), static_cast<Eigen::Index>(mode.z.size()));
      solve(probe, *evidence_.front(), true);
      if (probe.solved()) anchor(stand_in_, probe);
    }
    if (options.tails) reach_out();
    const std::size_t each = std::max<std::size_t>(options.count / count_, 4);
    in_parallel([&](std::size_t p) {
      populations_[p] =
          std::make_unique<Population>(stand_in_, mixture_, each, options.seed * 1000003ULL + p * 7919ULL);
    });
  }

  Samples run() {
    in_parallel([&](std::size_t p) { populations_[p]->run(options_.sweeps); });
    tell(0.3);
    for (int round = 0; round < options_.rounds; ++round) {
      std::vector<Probe> probes = solve_all(32, true);
      const double share = effective_share(probes);
      if (share >= good_enough) break;
      // A posterior that is bent in many directions takes more anchors than can be had; what each draw fits for itself
      // may still follow it.
      if (share < (round > 0 || options_.rounds == 1 ? hopeless : 0.1 * hopeless))
        if (!fitted_) {
          fitted_ = fitted_samples(evidence_, modes_, options_);
          if (fitted_ && fitted_->converged()) return *fitted_;
        }
      if (!mend(stand_in_, probes, *evidence_.front())) break;
      in_parallel([&](std::size_t p) { populations_[p]->retarget(options_.sweeps); });
      tell(0.3 + 0.3 * (round + 1) / options_.rounds);
    }
    for (int pass = 0;; ++pass) {
      settle();
      std::vector<Probe> all = solve_all(options_.count, false);
      Samples samples = weighed(all);
      // A few samples with most of the weight lie where the stand-in thinks far too little of the line. They are rare
      // among the few that it was first tried on; now they are known.
      if (pass >= options_.passes || (samples.converged() && samples.efficiency >= passable) ||
          !mend(stand_in_, all, *evidence_.front())) {
        if (samples.converged() && samples.efficiency >= passable) {
          tell(1.0);
          return samples;
        }
        return better(options_.lead_on && !(fitted_ && fitted_->effective >= enough_fitted) ? corrected() : samples);
      }
      in_parallel([&](std::size_t p) { populations_[p]->retarget(options_.sweeps); });
    }
  }

 private:
  /// Anchors in the tails, before anything is drawn.
  void reach_out() {
    std::vector<std::vector<Probe>> found(count_);
    const Eigen::VectorXd peak =
        Eigen::VectorXd::Map(modes_.front().z.data(), static_cast<Eigen::Index>(modes_.front().z.size()));
    in_parallel([&](std::size_t p) { found[p] = tails(stand_in_, mixture_, peak, *evidence_[p], p, count_); });
    std::vector<Probe> all;
    for (std::vector<Probe>& some : found)
      for (Probe& probe : some) all.push_back(std::move(probe));
    mixture_.add(all);
    mend(stand_in_, all, *evidence_.front());
  }

  /// These, or those that are each a fit where these are fewer and no answer either.
  Samples better(Samples samples) const {
    return fitted_ && !samples.converged() && fitted_->effective > samples.effective ? *fitted_ : samples;
  }

  /// The samples led on to the line's own posterior, where weighing them leaves too few.
  Samples corrected() {
    in_parallel([&](std::size_t p) { populations_[p]->correct(*evidence_[p], fewer / count_); });
    for (int block = 0; block < options_.long_blocks && !settled(); ++block) {
      in_parallel([&](std::size_t p) { populations_[p]->move_on(*evidence_[p], long_block); });
      tell(0.8 + 0.2 * (block + 1) / options_.long_blocks);
    }
    std::vector<Probe> all;
    for (const auto& population : populations_)
      for (const Point& point : population->points()) {
        Probe probe;
        probe.z = point.z;
        all.push_back(std::move(probe));
      }
    return weighed(all);
  }

  void settle() {
    for (int block = 0; block < options_.blocks && !settled(); ++block) {
      in_parallel([&](std::size_t p) { populations_[p]->sweep_all(options_.sweeps); });
      tell(0.6 + 0.3 * (block + 1) / options_.blocks);
    }
  }

  void tell(double share) const {
    if (options_.progress) options_.progress(share);
  }

  /// Calls task(p) for each population; they share the processors.
  template <class Task>
  void in_parallel(const Task& task) {
    study::parallel(count_, study::processors(), task);
  }

  /// Whether the populations agree, as far as the stand-in goes.
  bool settled() const {
    std::vector<std::vector<double>> z;
    for (const auto& population : populations_)
      for (const Point& point : population->points()) z.emplace_back(point.z.data(), point.z.data() + point.z.size());
    const Convergence convergence = convergence_of(z, count_);
    return convergence.r_hat < agreed && convergence.effective > enough * static_cast<double>(z.size());
  }

  /// `each` samples of every population, solved for.
  std::vector<Probe> solve_all(std::size_t each, bool with_slopes) {
    std::vector<std::vector<Probe>> by_population(count_);
    in_parallel([&](std::size_t p) {
      const std::vector<Point>& points = populations_[p]->points();
      const std::size_t some = std::min(each, points.size());
      for (std::size_t i = 0; i < some; ++i) {
        const Point& point = points[i * points.size() / some];  // kin stand beside each other
        Probe probe;
        probe.z = point.z;
        probe.guess = point.log_posterior;
        solve(probe, *evidence_[p], with_slopes);
        by_population[p].push_back(std::move(probe));
      }
    });
    std::vector<Probe> all;
    for (std::vector<Probe>& some : by_population)
      for (Probe& probe : some) all.push_back(std::move(probe));
    return all;
  }

  Samples weighed(const std::vector<Probe>& all) const {
    Samples samples;
    double top = -1e300, total = 0.0, squares = 0.0;
    for (const Probe& p : all) top = std::max(top, p.exact - p.guess);
    for (const Probe& p : all) {
      samples.z.emplace_back(p.z.data(), p.z.data() + p.z.size());
      samples.weight.push_back(p.solved() ? std::exp(p.exact - p.guess - top) : 0.0);
      total += samples.weight.back();
    }
    for (double& w : samples.weight) {
      w /= total;
      squares += w * w;
    }
    samples.efficiency = 1.0 / squares / static_cast<double>(all.size());
    const Convergence convergence = convergence_of(samples.z, count_, samples.weight);
    samples.populations = count_;
    samples.effective = convergence.effective;
    samples.r_hat = convergence.r_hat;
    samples.anchors = stand_in_.anchors().size();
    std::size_t taken = 0, tried = 0;
    for (std::size_t p = 0; p < count_; ++p) {
      samples.temperatures = std::max(samples.temperatures, populations_[p]->temperatures);
      samples.evaluations += evidence_[p]->evaluations;
      taken += populations_[p]->taken;
      tried += populations_[p]->tried;
    }
    samples.acceptance = tried ? static_cast<double>(taken) / static_cast<double>(tried) : 1.0;
    return samples;
  }

  const SampleOptions& options_;
  const std::vector<Mode>& modes_;
  std::optional<Samples> fitted_;  // once they were asked for
  Mixture mixture_;
  std::size_t count_;
  std::vector<std::unique_ptr<Population>> populations_;
  std::vector<std::unique_ptr<Evidence>> evidence_;  // one each, so that no answer hangs on who solved before
  StandIn stand_in_;
};

}  // namespace

SampleOptions quick_options(std::uint64_t seed) {
  SampleOptions options;
  options.count = 192;
  options.populations = 2;
  options.sweeps = 1;
  options.blocks = 2;
  options.rounds = 1;
  options.passes = 0;
  options.lead_on = false;
  options.tails = false;
  options.seed = seed;
  return options;
}

Samples sample(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
               const std::vector<Mode>& modes, const SampleOptions& options) {
  return Sampler(suspects, readings, bench, modes, options).run();
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
