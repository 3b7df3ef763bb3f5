#include "line/cycle_order.hpp"

#include <algorithm>
#include <array>

namespace airtally::line {
namespace {

/// Moments that must not fall together are this far apart [s]: far less than any machine keeps to, and far more than
/// the nanosecond by which the moments just after the touch and just before the place are told from those.
constexpr double apart = 1e-6;

constexpr std::array<std::string_view, 9> keys{"valve-on", "touch",   "lift",     "travel", "place",
                                               "release",  "retract", "pump-off", "period"};

/// The moment in a cycle that may be changed, or not.
template <class OneCycle>
auto find_moment(OneCycle& cycle, Moment moment) -> decltype(&cycle.touch) {
  const auto given = [](auto& one) -> decltype(&cycle.touch) { return one ? &*one : nullptr; };
  switch (moment) {
    case Moment::valve_on:
      return &cycle.valve_on;
    case Moment::touch:
      return &cycle.touch;
    case Moment::lift:
      return given(cycle.lift);
    case Moment::travel:
      return given(cycle.travel);
    case Moment::place:
      return &cycle.place;
    case Moment::release:
      return given(cycle.release);
    case Moment::retract:
      return given(cycle.retract);
    case Moment::pump_off:
      return given(cycle.pump_off);
    case Moment::period:
      return given(cycle.period);
  }
  return nullptr;
}

/// Collects those pairs of which the cycle has both.
class Orders {
 public:
  explicit Orders(const Line& line) : line_(line), cycle_(*line.cycle) {
    for (const std::size_t nozzle : all_of(line, Kind::nozzle)) {
      const auto valve = valve_of(line, nozzle);
      if (std::find(valves_.begin(), valves_.end(), valve) == valves_.end()) valves_.push_back(valve);
    }
  }

  std::vector<InOrder> all() {
    // A lift that is left out comes once it is safe, which is never before the touch; so does the travel, with the
    // lift.
    const Moment lifted = cycle_.lift ? Moment::lift : Moment::touch;
    for (const Moment before : {Moment::touch, Moment::valve_on}) add(before, Moment::lift);
    add(lifted, Moment::travel);
    add(Moment::touch, Moment::place, apart);
    for (const Moment before : {Moment::lift, Moment::travel, Moment::valve_on}) add(before, Moment::place);
    add(Moment::touch, Moment::pump_off);
    // A valve may be told to let go ahead of the place by what it takes to do so; but a part is lifted with the valve
    // told to open and not yet told to let go.
    for (const auto& valve : valves_) {
      const Moment go = letting_go(cycle_, valve.has_value());
      for (const Moment before : {lifted, Moment::valve_on}) add(before, go);
      if (valve) add(Moment::valve_on, go, opens(*valve) - closes(*valve) + apart, valve);
    }
    add(Moment::place, Moment::retract);
    for (const auto& valve : valves_) add(letting_go(cycle_, valve.has_value()), Moment::retract);
    for (const Moment before : {Moment::place, Moment::release, Moment::retract, Moment::pump_off})
      add(before, Moment::period);
    for (const auto& valve : valves_)
      if (valve)
        add(letting_go(cycle_, true), Moment::period, closes(*valve) - opens(*valve) - cycle_.valve_on.value + apart,
            valve);
    return std::move(orders_);
  }

 private:
  double opens(std::size_t valve) const { return own(valve).opens.value; }
  double closes(std::size_t valve) const { return own(valve).closes.value; }
  Valve own(std::size_t valve) const { return line_.elements[valve].valve.value_or(Valve{}); }

  void add(Moment earlier, Moment later, double least = 0.0, std::optional<std::size_t> valve = {}) {
    if (earlier != later && when(cycle_, earlier) && when(cycle_, later))
      orders_.push_back({earlier, later, least, valve});
  }

  const Line& line_;
  const Cycle& cycle_;
  std::vector<std::optional<std::size_t>> valves_;  // that nozzles hang on; none: one hangs on no valve
  std::vector<InOrder> orders_;
};

}  // namespace

std::string_view key(Moment moment) { return keys.at(static_cast<std::size_t>(moment)); }

const Quantity* when(const Cycle& cycle, Moment moment) { return find_moment(cycle, moment); }

Quantity* when(Cycle& cycle, Moment moment) { return find_moment(cycle, moment); }

Moment letting_go(const Cycle& cycle, bool valve) {
  if (cycle.release) return Moment::release;
  return !valve && cycle.pump_off ? Moment::pump_off : Moment::place;
}

std::optional<std::size_t> valve_of(const Line& line, std::size_t nozzle) {
  std::size_t i = nozzle;
  // No way is longer than the line has elements; one that goes round in a circle is told of elsewhere.
  for (std::size_t steps = 0; steps < line.elements.size(); ++steps) {
    const Element& element = line.elements[i];
    if (element.kind == Kind::valve) return i;
    if (is_source(element.kind)) return std::nullopt;
    const auto before =
        element.after.empty() ? (i > 0 ? std::optional(i - 1) : std::nullopt) : find(line, element.after);
    if (!before) return std::nullopt;
    i = *before;
  }
  return std::nullopt;
}

std::vector<InOrder> order_of_pick(const Line& line) {
  return line.cycle ? Orders(line).all() : std::vector<InOrder>();
}

}  // namespace airtally::line
