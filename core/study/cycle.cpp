#include "study/cycle.hpp"

#include <algorithm>
#include <cmath>

#include "line/variant.hpp"
#include "study/cycle_limits.hpp"
#include "study/cycle_notes.hpp"
#include "study/cycle_plan.hpp"
#include "study/cycle_settle.hpp"
#include "study/hold.hpp"

namespace airtally::study {
namespace {

using line::none;

/// A moment of the schedule in the cycle shown [s]: what is left of it once the cycles before are taken away, without
/// the rounding of doing so.
double as_scheduled(double time) {
  constexpr double per_second = 1e12;
  return std::round(time * per_second) / per_second;
}

/// Earliest moment from which nozzle `k` has `needed` vacuum until it is placed.
std::optional<double> safe_from(const CycleRun& run, std::size_t k, double touch, double place, double needed) {
  const double level = run.ambient - needed;
  if (run.trajectory.at(k, place) > level) return std::nullopt;
  // No crossing: the vacuum is there when the nozzle touches.
  return run.trajectory.last_crossing(k, level, touch, place);
}

HeadCycle judge(const line::Line& line, const CycleRun& run, const Plan& plan, const HeadPlan& head) {
  const double from = plan.shown_from;
  const NeededVacuum needed = needed_vacuum(line, head.nozzle);
  const std::size_t k = head.nozzle_index;
  HeadCycle result;
  result.seat = head.seat;
  result.why_not_closed = line::why_not_closed(line, head.nozzle);
  result.nozzle = head.nozzle;
  if (head.valve != none) result.valve = head.valve;
  result.valve_on = as_scheduled(head.valve_on);
  result.touch = as_scheduled(head.touch);
  result.place = as_scheduled(head.place);
  result.release = as_scheduled(head.release);
  result.needed_to_lift = needed.to_lift;
  result.needed_to_travel = needed.to_travel;
  // A moment after the event itself, so that the state before it is not read.
  const double touched = from + head.touch + 1e-9, placed = from + head.place - 1e-9;
  const auto safe = [&](double need) -> std::optional<double> {
    const auto from_then = safe_from(run, k, touched, placed, need);
    return from_then ? std::optional(std::max(*from_then - from, result.touch)) : std::nullopt;
  };
  result.travels_with_lift = !head.travel;
  result.safe_travel = safe(needed.to_travel);
  result.safe_lift = result.travels_with_lift ? result.safe_travel : safe(needed.to_lift);
  // Vacuum that comes when the head has been told to let go is on its way out again: nothing is lifted by that.
  if (result.safe_lift && *result.safe_lift > result.release) result.safe_lift.reset();
  if (!result.safe_lift && head.release < head.place) {
    const double need = result.needed_from_lift(), told = from + head.release;
    if (const auto since = safe_from(run, k, touched, told, need)) {
      result.held_from = std::max(*since - from, result.touch);
      result.lost_at = run.trajectory.first_crossing(k, run.ambient - need, told) - from;
    }
  }
  result.lift = head.lift ? as_scheduled(*head.lift) : result.safe_lift.value_or(result.touch);
  result.travel = head.travel ? as_scheduled(*head.travel) : result.lift;
  const auto held = [&](double time) { return std::clamp(from + time, touched, placed); };
  // A safe moment is where the vacuum meets the need; what the last digits of that root make of it is no lack.
  const auto margin = [&](const std::optional<double>& met, double time, double pressure, double need) {
    const double there = run.ambient - pressure;
    return (met && time == *met ? std::max(there, need) : there) - need;
  };
  result.margin_at_lift =
      margin(result.safe_lift, result.lift, run.trajectory.at(k, held(result.lift)), needed.to_lift);
  const double travels = held(result.travel);
  const auto [highest, when] = run.trajectory.highest(k, travels, placed);
  const double worst = when == travels ? result.travel : when - from;
  result.margin_in_travel = margin(result.safe_travel, worst, highest, needed.to_travel);
  result.worst_moment = worst;
  if (head.seat != line::Seat::closed) return result;
  const double rests = run.ambient - needed.to_rest, release = from + head.release;
  const double left = from + std::min(head.retract, plan.end - from);
  // What is not held as the release begins has gone already.
  const double let_go =
      run.trajectory.at(k, release) >= rests ? release : run.trajectory.first_crossing(k, rests, release);
  if (let_go >= 0.0 && let_go < left) result.let_go = let_go - from;
  // Just before the nozzle leaves: then its mouth is the room.
  result.blow = std::max(0.0, run.trajectory.highest(k, from + head.release, left - 1e-9).first - run.ambient);
  return result;
}

std::size_t slowest_of(const std::vector<HeadCycle>& heads) {
  const auto later = [](const HeadCycle& a, const HeadCycle& b) {
    const double no_end = 1e300;
    return a.safe_lift.value_or(no_end) - a.touch < b.safe_lift.value_or(no_end) - b.touch;
  };
  return static_cast<std::size_t>(std::max_element(heads.begin(), heads.end(), later) - heads.begin());
}

std::vector<CycleEvent> events_of(const line::Line& line, const Plan& plan) {
  std::vector<CycleEvent> events;
  for (const PlannedEvent& e : plan.events) {
    const HeadPlan& head = plan.heads[e.head];
    const double time = as_scheduled(e.since);
    switch (e.act) {
      case Act::valve_opens:
        events.push_back({time, head.valve, "opens towards the pump"});
        break;
      case Act::valve_closes: {
        const auto& valve = line.elements[head.valve].valve;
        const bool vents = valve && valve->vent;
        events.push_back({time, head.valve,
                          !vents                  ? "closes"
                          : valve->vent->blow_off ? "closes and blows off"
                                                  : "closes and vents"});
        break;
      }
      case Act::vent_closes:
        events.push_back({time, head.valve, "ends the vent"});
        break;
      case Act::approach:
        events.push_back({time, head.nozzle, "begins its last stretch down"});
        break;
      case Act::touch:
        events.push_back({time, head.nozzle, "meets the part"});
        break;
      case Act::retract:
        events.push_back({time, head.nozzle, "leaves the part"});
        break;
      case Act::pump_starts:
      case Act::pump_stops:
        for (std::size_t i = 0; i < line.elements.size(); ++i)
          if (line::is_source(line.elements[i].kind))
            events.push_back({time, i, e.act == Act::pump_starts ? "starts" : "stops"});
        break;
    }
  }
  return events;
}

std::vector<CycleSample> samples_of(const CycleRun& run, const Plan& plan, std::size_t places, std::size_t count) {
  std::vector<CycleSample> samples;
  for (std::size_t s = 0; s < count; ++s) {
    CycleSample sample;
    sample.time = (plan.end - plan.shown_from) * static_cast<double>(s) /
                  static_cast<double>(std::max<std::size_t>(count - 1, 1));
    const double t = plan.shown_from + sample.time;
    for (std::size_t w = 0; w < places; ++w) {
      const double vacuum = run.ambient - run.trajectory.at(w, t);
      sample.vacuum.push_back(std::fabs(vacuum) < 1e-6 ? 0.0 : vacuum);  // the mouth of an open tip is the outside
    }
    samples.push_back(std::move(sample));
  }
  return samples;
}

}  // namespace

bool CycleAnswer::works() const {
  const auto all = [](const std::vector<HeadCycle>& judged) {
    return std::all_of(judged.begin(), judged.end(), [](const HeadCycle& head) { return head.works(); });
  };
  return settled && all(heads) && all(widest);
}

CycleAnswer cycle(const line::Line& line, const CycleOptions& options) {
  const line::Topology topology = line::topology(line);
  const SettledRun rest = settle(line, topology, options);
  const Plan& schedule = rest.plan;
  const CycleRun& run = rest.run;

  CycleAnswer answer;
  answer.repeats = schedule.repeats;
  answer.drift = rest.drift;
  answer.settled = rest.settled;
  answer.carried = rest.carried;
  answer.end = as_scheduled(schedule.end - schedule.shown_from);
  answer.worst_balance = run.worst_balance;
  answer.steps = run.steps;
  answer.pieces = run.pieces;
  for (const HeadPlan& head : schedule.heads) {
    answer.heads.push_back(judge(line, run, schedule, head));
    answer.places.push_back({head.nozzle, false, false});
  }
  for (std::size_t i : run.gauges) answer.places.push_back({i, true, false});
  for (std::size_t i : run.sources) answer.places.push_back({i, false, true});
  answer.slowest = slowest_of(answer.heads);
  answer.events = events_of(line, schedule);
  answer.samples = samples_of(run, schedule, answer.places.size(), options.samples);

  const auto& safe = answer.heads[answer.slowest].safe_lift;
  // A head that may lift as soon as it touches is held up by nothing in the line.
  if (options.limits && rest.settled && safe && *safe > answer.heads[answer.slowest].touch) {
    for (Better& better : better_lines(line)) {
      const line::Topology other = line::topology(better.line);
      const SettledRun other_rest = settle(better.line, other, options, &rest);
      if (!other_rest.settled) continue;
      const HeadCycle then = judge(better.line, other_rest.run, other_rest.plan, schedule.heads[answer.slowest]);
      if (!then.safe_lift) continue;
      better.gain.gain = *safe - *then.safe_lift;
      answer.limits.push_back(better.gain);
    }
    std::stable_sort(answer.limits.begin(), answer.limits.end(),
                     [](const CycleGain& a, const CycleGain& b) { return a.gain > b.gain; });
  }
  if (options.widest && line.part && !line.part->gap.is_exact()) {
    const line::Line wide = line::at_widest_gap(line);
    answer.widest_gap = wide.part->gap.value;
    const SettledRun wide_rest = settle(wide, topology, options, &rest);
    for (const HeadPlan& head : wide_rest.plan.heads)
      answer.widest.push_back(judge(wide, wide_rest.run, wide_rest.plan, head));
    answer.settled = answer.settled && wide_rest.settled;
  }
  answer.notes = notes_of(line, answer, schedule);
  return answer;
}

}  // namespace airtally::study
