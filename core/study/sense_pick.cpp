#include "study/sense_pick.hpp"

#include <algorithm>

#include "errors.hpp"
#include "study/cycle.hpp"
#include "study/sense_line.hpp"

namespace airtally::study {
namespace {

constexpr std::size_t moments = 2001;  ///< of a pick of some seconds: a millisecond or so

/// The pick at the sensor, between touch and place.
struct Course {
  const HeadCycle& head;
  std::vector<double> after, vacuum;  ///< from touch [s]; at the sensor [Pa]
};

Course course_of(const CycleAnswer& answer, std::size_t at, std::size_t head) {
  const auto place = std::find_if(answer.places.begin(), answer.places.end(),
                                  [&](const CyclePlace& p) { return p.gauge && p.element == at; });
  const auto k = static_cast<std::size_t>(place - answer.places.begin());
  Course course{answer.heads.at(head), {}, {}};
  for (const CycleSample& sample : answer.samples) {
    if (sample.time < course.head.touch || sample.time > course.head.place) continue;
    course.after.push_back(sample.time - course.head.touch);
    course.vacuum.push_back(sample.vacuum.at(k));
  }
  return course;
}

/// Earliest moment from which `holds` is true of the vacuum for good.
template <typename Holds>
std::optional<double> for_good(const Course& course, Holds holds) {
  std::size_t from = course.vacuum.size();
  while (from > 0 && holds(course.vacuum[from - 1])) --from;
  if (from == course.vacuum.size()) return std::nullopt;
  return course.after[from];
}

}  // namespace

std::optional<SensedPick> sensed_pick(const line::Line& line, std::size_t at, std::size_t nozzle, double threshold,
                                      double level, double averaging) {
  if (!line.cycle) return std::nullopt;
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  const auto head = static_cast<std::size_t>(std::find(nozzles.begin(), nozzles.end(), nozzle) - nozzles.begin());
  const line::Line watched = with_gauge(line, at);
  CycleOptions options;
  options.limits = options.widest = false;
  options.samples = moments;
  try {
    const CycleAnswer on = cycle(watched, options);
    options.missed = head;
    const CycleAnswer off = cycle(watched, options);
    const Course held = course_of(on, at, head), missed = course_of(off, at, head);
    SensedPick pick;
    pick.lift = held.head.lift - held.head.touch;
    for (const double vacuum : held.vacuum) pick.most = std::max(pick.most, vacuum);
    pick.held = for_good(held, [&](double vacuum) { return vacuum >= level; });
    pick.missed = for_good(missed, [&](double vacuum) { return vacuum < threshold; });
    for (std::optional<double>* time : {&pick.held, &pick.missed})
      if (*time) **time += averaging;
    return pick;
  } catch (const BadInput&) {  // times that don't go together: it is for the question about the cycle to say which
    return std::nullopt;
  }
}

}  // namespace airtally::study
