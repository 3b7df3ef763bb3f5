#include "study/cycle_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "line/cycle_order.hpp"

namespace airtally::study {
namespace {

using line::none;

std::string ms(double seconds) { return fmt::format("{:g} ms", 1e3 * seconds); }

HeadPlan head_plan(const line::Line& line, std::size_t nozzle, double delay, double period) {
  const line::Cycle& cycle = *line.cycle;
  HeadPlan head;
  head.nozzle = nozzle;
  head.valve = line::valve_of(line, nozzle).value_or(none);
  const auto at = [&](const line::Quantity& q) { return q.value + delay; };
  head.valve_on = at(cycle.valve_on);
  head.touch = at(cycle.touch);
  const double height = std::max(0.0, cycle.approach_height.value - (line.part ? line.part->gap.value : 0.0));
  // A stretch that would begin before the cycle begins with it, at the gap that it has then.
  head.approach = std::max(delay, head.touch - height / cycle.approach_speed.value);
  head.place = at(cycle.place);
  if (cycle.lift) head.lift = at(*cycle.lift);
  if (cycle.travel) head.travel = at(*cycle.travel);
  head.release = at(*line::when(cycle, line::letting_go(cycle, head.valve != none)));
  head.retract = cycle.retract ? at(*cycle.retract) : period + delay;
  if (cycle.vent_time) head.vent_end = head.release + cycle.vent_time->value;
  return head;
}

/// Without a period a cycle ends well after its last moment.
double period_of(const line::Cycle& cycle) {
  if (cycle.period) return cycle.period->value;
  double last = std::max(cycle.place.value, cycle.release ? cycle.release->value : 0.0);
  if (cycle.vent_time) last += cycle.vent_time->value;
  for (const auto& other : {cycle.retract, cycle.pump_off})
    if (other) last = std::max(last, other->value);
  return last + std::max(0.1, 0.25 * last);
}

/// Whether the pump's stop has to keep to that order for what it lets go.
bool lets_go(const line::Cycle& cycle, const line::InOrder& one) {
  using line::Moment;
  if (line::letting_go(cycle, false) != Moment::pump_off) return false;
  return (one.later == Moment::pump_off && one.earlier != Moment::touch) ||
         (one.earlier == Moment::pump_off && one.later != Moment::period);
}

/// What is wrong with two moments that don't come in order, in a sentence.
std::string out_of_order(const line::Line& line, const line::InOrder& one) {
  const line::Cycle& cycle = *line.cycle;
  const double earlier = line::when(cycle, one.earlier)->value, later = line::when(cycle, one.later)->value;
  if (!one.valve) {
    const bool before = later < earlier;
    return fmt::format(
        "[cycle]: {} = {} {} {} = {}; a pick goes touch, lift, travel, place, retract, with valve-on before the lift "
        "and release after it{}.",
        line::key(one.later), ms(later), before ? "is before" : fmt::format("comes less than {} after", ms(one.apart)),
        line::key(one.earlier), ms(earlier),
        lets_go(cycle, one) ? ", and without a release a nozzle that hangs on no valve is let go by pump-off" : "");
  }
  const line::Element& valve = line.elements[*one.valve];
  const line::Valve own = valve.valve.value_or(line::Valve{});
  if (one.later == line::Moment::period)
    return fmt::format(
        "[cycle]: valve '{}' closes at {} but is to open again for the next pick at {}; give the period more time or "
        "release sooner.",
        valve.name, ms(earlier + own.closes.value), ms(later + cycle.valve_on.value + own.opens.value));
  return fmt::format(
      "[cycle]: valve '{}' opens at {} but is to close for this pick at {}, before it has brought any vacuum; give "
      "valve-on sooner or {} later.",
      valve.name, ms(earlier + own.opens.value), ms(later + own.closes.value), line::key(one.later));
}

void check_order(const line::Line& line) {
  for (const line::InOrder& one : line::order_of_pick(line))
    if (line::when(*line.cycle, one.later)->value < line::when(*line.cycle, one.earlier)->value + one.apart)
      throw BadInput(line.cycle->where, out_of_order(line, one));
}

/// Puts an act into the cycle that it falls into. Sums of moments that are the same on paper differ by their last
/// digits: they are the same again on a grid far finer than any machine keeps to.
void lay_out(PlannedEvent& event, double period, bool repeats) {
  constexpr double per_second = 1e12;
  event.turn = event.repeat;
  event.at = std::round(event.since * per_second) / per_second;
  if (!repeats) return;
  const int whole = static_cast<int>((event.since + 0.5 / per_second) / period);
  event.turn += whole;
  event.at = std::max(0.0, std::round((event.since - whole * period) * per_second) / per_second);
}

void check_valves(const line::Line& line, const std::vector<HeadPlan>& heads) {
  for (const HeadPlan& a : heads)
    for (const HeadPlan& b : heads)
      if (a.valve != none && a.valve == b.valve && a.valve_on != b.valve_on)
        throw BadInput(
            line.cycle->where,
            fmt::format("[cycle]: nozzles '{}' and '{}' hang on the same valve '{}' and can't have different delays.",
                        line.elements[a.nozzle].name, line.elements[b.nozzle].name, line.elements[a.valve].name));
}

}  // namespace

Plan plan(const line::Line& line, int repeats) {
  if (!line.cycle)
    throw BadInput({line.file, 0, 0},
                   "the file has no [cycle]; add one with touch and place, such as touch = \"40 ms\".");
  if (!line.part)
    throw BadInput({line.file, 0, 0}, "a cycle picks a part, but the file has no [part]; add one with mass and gap.");
  const line::Cycle& cycle = *line.cycle;
  Plan plan;
  plan.period = period_of(cycle);
  check_order(line);
  plan.repeats = cycle.period ? repeats : 1;

  for (const line::HeadSchedule& own : cycle.heads) {
    const auto named = line::find(line, own.nozzle);
    if (!named || line.elements[*named].kind != line::Kind::nozzle)
      throw BadInput(own.where,
                     fmt::format("[[cycle.head]]: '{}' is not the name of a nozzle of this line.", own.nozzle));
  }
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  double longest_delay = 0.0;
  for (std::size_t k = 0; k < nozzles.size(); ++k) {
    double delay = 0.0;
    for (const line::HeadSchedule& own : cycle.heads)
      if (own.nozzle == line.elements[nozzles[k]].name) delay = own.delay.value;
    longest_delay = std::max(longest_delay, delay);
    HeadPlan head = head_plan(line, nozzles[k], delay, plan.period);
    head.nozzle_index = k;
    head.seat = line::seat_of(line, nozzles[k]);
    plan.heads.push_back(head);
  }
  check_valves(line, plan.heads);

  // While the last of the delayed heads are followed to their end, the others have begun again, as often as it lags.
  const int begun = plan.repeats + (cycle.period ? static_cast<int>(std::ceil(longest_delay / plan.period)) : 0);
  for (int repeat = 0; repeat < begun; ++repeat) {
    const auto add = [&](double since, Act act, std::size_t head) {
      PlannedEvent event{since, act, head, repeat, repeat, since};
      lay_out(event, plan.period, cycle.period.has_value());
      plan.carried = std::max(plan.carried, event.turn - event.repeat);
      plan.events.push_back(event);
    };
    if (!cycle.pump_always_on) {
      add(0.0, Act::pump_starts, 0);
      if (cycle.pump_off) add(cycle.pump_off->value, Act::pump_stops, 0);
    }
    for (std::size_t h = 0; h < plan.heads.size(); ++h) {
      const HeadPlan& head = plan.heads[h];
      const line::Element* valve = head.valve == none ? nullptr : &line.elements[head.valve];
      const bool first_on_valve =
          valve && std::find_if(plan.heads.begin(), plan.heads.end(), [&](const HeadPlan& other) {
                     return other.valve == head.valve;
                   })->nozzle == head.nozzle;
      if (first_on_valve) {
        const line::Valve own = valve->valve.value_or(line::Valve{});
        const double opens = head.valve_on + own.opens.value;
        add(opens, Act::valve_opens, h);
        add(head.release + own.closes.value, Act::valve_closes, h);
        // The vent shuts at the latest as the valve opens again; told to shut later it would shut the next cycle's.
        const auto vent_closes =
            head.vent_end && own.vent ? std::optional(*head.vent_end + own.closes.value) : std::nullopt;
        if (vent_closes && !(cycle.period && *vent_closes >= opens + plan.period))
          add(*vent_closes, Act::vent_closes, h);
      }
      if (head.seat != line::Seat::closed) continue;
      add(head.approach, Act::approach, h);
      add(head.touch, Act::touch, h);
      add(head.retract, Act::retract, h);
    }
  }
  std::stable_sort(plan.events.begin(), plan.events.end(), [](const PlannedEvent& a, const PlannedEvent& b) {
    return std::tie(a.turn, a.at, a.repeat) < std::tie(b.turn, b.at, b.repeat);
  });
  plan.shown_from = (plan.repeats - 1) * plan.period;
  plan.end = plan.repeats * plan.period + longest_delay;
  return plan;
}

Plan without_part(Plan plan, std::size_t head, int from) {
  plan.heads.at(head).seat = line::Seat::sucked_in;
  std::erase_if(plan.events, [head, from](const PlannedEvent& e) {
    return e.head == head && e.repeat >= from &&
           (e.act == Act::approach || e.act == Act::touch || e.act == Act::retract);
  });
  return plan;
}

}  // namespace airtally::study
