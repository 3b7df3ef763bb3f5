#include <algorithm>
#include <cmath>

#include "hunt/readings/contradictions_private.hpp"

namespace airtally::hunt {
namespace {

constexpr double beyond_doubt = 3.0;  ///< standard deviations of the difference of two readings

/// Apart by more than the instrument can be out.
bool apart(const Beside& one, double difference) {
  return difference > std::max(beyond_doubt * std::sqrt(2.0) * one.noise, 2.0 * one.accuracy);
}

}  // namespace

bool same_instrument(const Beside& a, const Beside& b) {
  const bool loose = a.instrument == Instrument::plugged;  // the same gauge, wherever it is
  return a.instrument == b.instrument && (a.at == b.at || loose) && a.tips == b.tips;
}

bool is_nearer(const study::Strip& strip, std::size_t nearer, std::size_t step) {
  while (strip.steps[step].before != step) {
    step = strip.steps[step].before;
    if (step == nearer) return true;
  }
  return false;
}

std::vector<Contradiction> contradictions(const line::Line& line, const study::Strip& strip,
                                          const std::vector<Beside>& list) {
  const auto sources = std::count_if(line.elements.begin(), line.elements.end(),
                                     [](const line::Element& e) { return line::is_source(e.kind); });
  std::vector<Contradiction> all;
  for (std::size_t a = 0; a < list.size(); ++a)
    for (std::size_t b = 0; b < list.size(); ++b) {
      if (a == b || !same_instrument(list[a], list[b])) continue;
      const double rise = list[b].read - list[a].read;
      if (list[a].step == list[b].step) {
        if (a < b && apart(list[a], std::fabs(rise))) all.push_back({a, b, std::fabs(rise), true});
      } else if (sources == 1 && is_gauge(list[a].instrument) && is_nearer(strip, list[a].step, list[b].step) &&
                 apart(list[a], rise)) {
        all.push_back({a, b, rise, false});
      }
    }
  // Of what the instrument is good to: amperes and pascals don't compare.
  const auto width = [&](const Contradiction& c) {
    return c.by / std::hypot(list[c.nearer].noise, list[c.nearer].accuracy);
  };
  std::stable_sort(all.begin(), all.end(), [&](const auto& x, const auto& y) { return width(x) > width(y); });
  std::vector<bool> named(list.size(), false);
  std::erase_if(all, [&](const Contradiction& c) {
    const bool again = named[c.nearer] || named[c.beyond];
    if (!again) named[c.nearer] = named[c.beyond] = true;
    return again;
  });
  return all;
}

}  // namespace airtally::hunt
