#include "study/sense_pick.hpp"

#include <algorithm>

#include "errors.hpp"
#include "line/topology.hpp"
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

Course course_of(const CycleAnswer& answer, std::size_t at, std::size_t head, double shift) {
  const auto place = std::find_if(answer.places.begin(), answer.places.end(),
                                  [&](const CyclePlace& p) { return p.gauge && p.element == at; });
  const auto k = static_cast<std::size_t>(place - answer.places.begin());
  Course course{answer.heads.at(head), {}, {}};
  for (const CycleSample& sample : answer.samples) {
    if (sample.time < course.head.touch || sample.time > course.head.place) continue;
    course.after.push_back(sample.time - course.head.touch);
    course.vacuum.push_back(sample.vacuum.at(k) + shift);
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

/// The moments from which on both are told by readings around `threshold`, each none where that is not before place.
void tell(SensedPick& pick, const Course& held, const Course& missed, const SafeReadings& safe, double threshold) {
  const double up = safe.held - safe.threshold, down = safe.threshold - safe.missed;
  pick.held = for_good(held, [&](double vacuum) { return vacuum >= threshold + up; });
  pick.missed = for_good(missed, [&](double vacuum) { return vacuum <= threshold - down; });
  for (std::optional<double>* time : {&pick.held, &pick.missed}) {
    if (*time) **time += safe.averaging;
    if (*time && **time > pick.place) time->reset();
  }
}

/// Whether the element `at` is on the pump's side of the valve by which the nozzle is switched.
bool before_valve(const line::Line& line, std::size_t at, std::size_t nozzle) {
  const line::Topology topology = line::topology(line);
  std::size_t i = topology.before[nozzle];
  while (i != line::none && line.elements[i].kind != line::Kind::valve) {
    if (i == at) return false;
    i = topology.before[i];
  }
  for (; i != line::none; i = topology.before[i])
    if (topology.before[i] == at) return true;
  return false;
}

/// The line with all that follows the touch later by `delay` [s].
line::Line later(line::Line line, double delay) {
  line::Cycle& cycle = *line.cycle;
  cycle.place = cycle.place.value + delay;
  for (std::optional<units::Quantity>* time : {&cycle.release, &cycle.retract, &cycle.period, &cycle.pump_off})
    if (*time) *time = (*time)->value + delay;
  return line;
}

}  // namespace

std::optional<SensedPick> sensed_pick(const line::Line& line, std::size_t at, std::size_t nozzle,
                                      const SafeReadings& safe) {
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
    const Course held = course_of(on, at, head, safe.shift_held), missed = course_of(off, at, head, safe.shift_missed);
    SensedPick pick;
    if (held.head.safe_lift || line.cycle->lift) pick.lift = held.head.lift - held.head.touch;
    pick.place = held.head.place - held.head.touch;
    if (held.vacuum.empty() || missed.vacuum.empty()) return pick;  // put down as soon as it is met
    for (const double vacuum : held.vacuum) pick.most = std::max(pick.most, vacuum);
    pick.held_last = held.vacuum.back();
    pick.missed_last = missed.vacuum.back();
    tell(pick, held, missed, safe, safe.threshold);
    if (pick.told()) return pick;
    if (before_valve(line, at, nozzle) && !pick.missed) {
      // Whether a few times as long from touch to place would let what stood before the valve go.
      const CycleAnswer longer = cycle(later(watched, 3.0 * pick.place), options);
      const Course then = course_of(longer, at, head, safe.shift_missed);
      pick.stale = for_good(then, [&](double vacuum) { return vacuum <= safe.missed; }).has_value();
    }
    // The middle of the room that both leave as the part is put down.
    SensedPick other = pick;
    const double other_threshold =
        safe.threshold + 0.5 * ((pick.missed_last - safe.missed) + (pick.held_last - safe.held));
    tell(other, held, missed, safe, other_threshold);
    if (other.told()) {
      pick.other_threshold = other_threshold;
      pick.other_after = other.told();
    }
    return pick;
  } catch (const BadInput&) {  // times that don't go together: it is for the question about the cycle to say which
    return std::nullopt;
  }
}

}  // namespace airtally::study
