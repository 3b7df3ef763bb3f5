#include "hunt/sample.hpp"

#include <algorithm>
#include <exception>
#include <thread>

#include "hunt/convergence.hpp"
#include "hunt/mixture_private.hpp"
#include "hunt/population_private.hpp"

namespace airtally::hunt {

Samples sample(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
               const std::vector<Mode>& modes, const SampleOptions& options) {
  const Mixture mixture(modes);
  const auto populations = static_cast<std::size_t>(std::max(options.populations, 1));
  const std::size_t each = std::max<std::size_t>(options.count / populations, 2);
  std::vector<std::unique_ptr<Population>> all(populations);
  std::vector<std::exception_ptr> trouble(populations);
  const auto run = [&](std::size_t first, std::size_t stride) {
    for (std::size_t p = first; p < populations; p += stride) {
      try {
        all[p] = std::make_unique<Population>(suspects, readings, bench, mixture, each,
                                              options.seed * 1000003ULL + p * 7919ULL);
        const auto progress = [&](double share) {
          options.progress((static_cast<double>(p) + share) / static_cast<double>(populations));
        };
        all[p]->run(options, first == 0 && options.progress ? std::function<void(double)>(progress)
                                                            : std::function<void(double)>());
      } catch (...) {
        trouble[p] = std::current_exception();
      }
    }
  };
  const std::size_t workers = std::min<std::size_t>(populations, std::max(1U, std::thread::hardware_concurrency()));
  std::vector<std::thread> threads;
  for (std::size_t w = 1; w < workers; ++w) threads.emplace_back(run, w, workers);
  run(0, workers);
  for (std::thread& thread : threads) thread.join();
  for (const std::exception_ptr& e : trouble)
    if (e) std::rethrow_exception(e);

  Samples samples;
  std::size_t taken = 0, tried = 0;
  for (const auto& population : all) {
    for (const Point& point : population->points())
      samples.z.emplace_back(point.z.data(), point.z.data() + point.z.size());
    samples.temperatures = std::max(samples.temperatures, population->temperatures);
    samples.evaluations += population->evaluations();
    taken += population->taken;
    tried += population->tried;
  }
  samples.acceptance = tried ? static_cast<double>(taken) / static_cast<double>(tried) : 1.0;
  const Convergence convergence = convergence_of(samples.z, populations);
  samples.effective = convergence.effective;
  samples.r_hat = convergence.r_hat;
  return samples;
}

Weighted quick_sample(Evidence& evidence, const std::vector<Mode>& modes, std::size_t count, std::uint64_t seed) {
  const Mixture mixture(modes);
  Normals normals(seed);
  Weighted result;
  std::vector<double> logs, r(evidence.size());
  for (std::size_t k = 0; k < count; ++k) {
    const Eigen::VectorXd z = mixture.draw(normals);
    const std::span<const double> span(z.data(), static_cast<std::size_t>(z.size()));
    if (!evidence.evaluate(span, r, {})) continue;
    double log_posterior = -0.5 * z.squaredNorm();
    for (double value : r) log_posterior -= 0.5 * value * value;
    logs.push_back(log_posterior - mixture.log_density(z));
    result.z.emplace_back(span.begin(), span.end());
  }
  if (logs.empty()) return result;
  const double total = log_sum(logs);
  double squares = 0.0;
  for (double value : logs) {
    result.weight.push_back(std::exp(value - total));
    squares += result.weight.back() * result.weight.back();
  }
  result.effective = 1.0 / squares;
  return result;
}

}  // namespace airtally::hunt
