#include "study/influence.hpp"

#include <algorithm>
#include <cmath>

#include "study/quasi_random.hpp"

namespace airtally::study {
namespace {

/// f at one point of A, the same of B, and with each column of A taken from B: (inputs + 2) rows of all outputs.
struct Row {
  std::vector<double> f;
  double a(std::size_t o) const { return f[o]; }
  double b(std::size_t o, std::size_t outputs) const { return f[outputs + o]; }
  double mixed(std::size_t o, std::size_t outputs, std::size_t i) const { return f[(i + 2) * outputs + o]; }
};

bool complete(const Row& row, std::size_t o, std::size_t outputs) {
  for (std::size_t k = o; k < row.f.size(); k += outputs)
    if (!std::isfinite(row.f[k])) return false;
  return true;
}

std::vector<Influence> of_output(const std::vector<Row>& rows, std::size_t o, std::size_t outputs, std::size_t inputs) {
  std::vector<const Row*> good;
  for (const Row& row : rows)
    if (complete(row, o, outputs)) good.push_back(&row);
  std::vector<Influence> result(inputs);
  if (good.size() < 2) return result;
  const auto n = static_cast<double>(good.size());
  double mean = 0.0, variance = 0.0, size = 0.0;
  for (const Row* row : good) mean += (row->a(o) + row->b(o, outputs)) / (2.0 * n);
  for (const Row* row : good) {
    const double a = row->a(o) - mean, b = row->b(o, outputs) - mean;
    variance += (a * a + b * b) / (2.0 * n);
    size = std::max({size, std::fabs(row->a(o)), std::fabs(row->b(o, outputs))});
  }
  // What a solver's tolerance leaves is no variance.
  constexpr double noise = 1e-8;
  if (variance <= noise * noise * size * size) return result;
  for (std::size_t i = 0; i < inputs; ++i) {
    for (const Row* row : good) {
      const double a = row->a(o) - mean, b = row->b(o, outputs) - mean, ab = row->mixed(o, outputs, i) - mean;
      result[i].first += b * (ab - a) / (n * variance);
      result[i].total += (a - ab) * (a - ab) / (2.0 * n * variance);
    }
  }
  return result;
}

}  // namespace

std::vector<std::vector<Influence>> influences(std::size_t inputs, std::size_t outputs, const CubeModel& model,
                                               const InfluenceOptions& options) {
  const QuasiRandom points(options.base, 2 * inputs, options.seed);
  std::vector<Row> rows(options.base, Row{std::vector<double>((inputs + 2) * outputs)});
  const auto run = [&](std::size_t k) {
    const std::size_t row = k / (inputs + 2), which = k % (inputs + 2);
    const std::span<const double> point = points[row];
    std::vector<double> u(point.begin(), point.begin() + static_cast<std::ptrdiff_t>(inputs));
    if (which == 1) u.assign(point.begin() + static_cast<std::ptrdiff_t>(inputs), point.end());
    if (which >= 2) u[which - 2] = point[inputs + which - 2];
    model(u, std::span<double>(rows[row].f).subspan(which * outputs, outputs));
  };
  parallel(options.base * (inputs + 2), options.threads, run, options.progress);
  std::vector<std::vector<Influence>> result;
  for (std::size_t o = 0; o < outputs; ++o) result.push_back(of_output(rows, o, outputs, inputs));
  return result;
}

}  // namespace airtally::study
