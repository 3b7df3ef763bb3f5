#include "study/sense.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "line/seat.hpp"
#include "line/topology.hpp"
#include "study/sense_private.hpp"

namespace airtally::study {
namespace {

/// Whether one limit holds both the open nozzle and the part.
bool read_alike(const std::vector<SensedState>& states) {
  const std::vector<std::string>& like_open = states.front().alike;
  return std::find(like_open.begin(), like_open.end(), "part") != like_open.end();
}

double vacuum_of(const Sense& sense, std::string_view name) {
  return std::find_if(sense.states.begin(), sense.states.end(), [&](const auto& s) { return s.name == name; })
      ->reading.vacuum;
}

/// Nozzles on the tip's side of the element.
std::size_t nozzles_beyond(const line::Line& line, std::size_t at) {
  const line::Topology topology = line::topology(line);
  std::size_t count = 0;
  for (std::size_t i : line::all_of(line, line::Kind::nozzle)) {
    while (i != line::none && topology.place[i] != topology.place[at]) i = topology.before[i];
    count += i == line::none ? 0 : 1;
  }
  return count;
}

/// What was taken for granted, and why there may be nothing to tell.
std::vector<std::string> notes_on(const line::Line& line, const SensedLine& sensed, const Sense& sense) {
  std::vector<std::string> notes;
  const line::Sensor& sensor = line.sensor.value();
  const double open = vacuum_of(sense, "open"), part = vacuum_of(sense, "part");
  const auto counts = [&](double vacuum) { return read_chain(sense.chain, sensor, vacuum).counts; };
  if (!sense.why_not_closed.empty())
    notes.push_back(sense.why_not_closed + "; the nozzle is taken to stay open");
  else if (!(part > open))
    notes.emplace_back("the part raises the vacuum at the sensor by nothing");
  else if (!sensor.ready_made && std::abs(counts(part) - counts(open)) < 1.0)
    notes.emplace_back(read_alike(sense.states) ? "open and part come out of the amplifier alike: it is at its rail"
                                                : "open and part lie less than one count apart");
  const double reach = std::max(std::min(open, part), vacuum_of(sense, "blocked"));
  if (!sensor.ready_made && reach > sensor.range.value)
    notes.push_back(
        fmt::format("the sensor is made for {:.1f} kPa and feels up to {:.1f} kPa: beyond its range it is "
                    "taken to go on straight, which real ones don't",
                    sensor.range.value / 1e3, reach / 1e3));
  if (line.part->gap.is_exact())
    notes.emplace_back("the part's gap has no tolerance: every part is taken to seal alike, which real parts don't");
  if (!sensed.any_ripple()) notes.emplace_back("the pump's ripple is not given: it is taken to run smoothly");
  return notes;
}

}  // namespace

std::size_t sensor_place(const line::Line& line) {
  const line::Sensor& sensor = line.sensor.value();
  const auto at = line::find(line, sensor.at);
  if (!at)
    throw BadInput(sensor.at_where, fmt::format("[sensor]: at = \"{}\" names no element of the line.", sensor.at));
  if (line.elements[*at].kind == line::Kind::nozzle)
    throw BadInput(sensor.at_where,
                   fmt::format("[sensor]: at = \"{}\" is a nozzle, whose tip-side end is the mouth on the "
                               "part; name the element before it.",
                               sensor.at));
  return *at;
}

std::vector<SensorPlace> sensor_places(const line::Line& line, const std::function<SensorPlace(std::size_t)>& there) {
  std::vector<SensorPlace> all;
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    if (line.elements[i].kind == line::Kind::nozzle) continue;  // its end is the mouth, where no sensor can be
    all.push_back(there(i));
    all.back().element = i;
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const SensorPlace& a, const SensorPlace& b) { return a.separation > b.separation; });
  return all;
}

std::optional<SensedPick> pick_by(const line::Line& line, const Sense& sense, const SafeReadings& safe,
                                  const std::function<laws::ErrorRates(double)>& rates_at) {
  std::optional<SensedPick> pick = sensed_pick(line, sense.element, sense.nozzle, safe);
  if (!pick || !pick->other_threshold) return pick;
  // A pick after a pause finds the line at rest, and another threshold has to tell there, too.
  const laws::ErrorRates rates = rates_at(*pick->other_threshold);
  if (std::max(rates.false_above, rates.false_below) > line.sensor->allowed.value) pick->other_threshold.reset();
  return pick;
}

void tell_when(const line::Line& line, const SensedLine& sensed, const SafeReadings& safe,
               const std::function<laws::ErrorRates(double)>& rates_at, Sense& result) {
  if (const auto time = sensed.rises_to(safe.held)) result.safe_after = *time + safe.averaging;
  result.pick = pick_by(line, result, safe, rates_at);
}

Sense sense(const line::Line& line, std::optional<std::size_t> asked) {
  if (!line.sensor)
    throw BadInput({line.file, 0, 0},
                   "there is no sensor to judge; add a table [sensor] with its place, span, amplifier and ADC, or with "
                   "its place and a switch.");
  if (!line.part) throw BadInput({line.file, 0, 0}, "there is no part to tell from none; add a table [part].");
  const std::size_t at = sensor_place(line);
  const SensedLine sensed(line, at, asked);

  Sense result;
  result.element = at;
  result.nozzle = sensed.nozzle_element();
  result.felt = nozzles_beyond(line, at);
  result.hardest = !asked && line::all_of(line, line::Kind::nozzle).size() > 1;
  result.why_not_closed = line::why_not_closed(line, result.nozzle);
  result.gap_spread = sensed.gap_spread(at);
  const Neighbours &open = sensed.neighbours(TipLook::open), &held = sensed.neighbours(TipLook::part);
  result.neighbours = {held.spread[at], open.spread[at], held.shift[at], held.alike[at]};
  if (line.sensor->ready_made)
    judge_switch(line, sensed, result);
  else
    judge_chain(line, sensed, result);
  result.notes = notes_on(line, sensed, result);
  return result;
}

}  // namespace airtally::study
