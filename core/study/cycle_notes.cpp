#include "study/cycle_notes.hpp"

#include <fmt/format.h>

#include "gas/air.hpp"
#include "line/topology.hpp"
#include "study/hold.hpp"
#include "study/nozzle_notes.hpp"
#include "units/show.hpp"

namespace airtally::study {
namespace {

void note_repeats(std::vector<std::string>& notes, const CycleAnswer& answer, const Plan& plan) {
  if (plan.repeats == 1) return;
  std::string text =
      fmt::format("the cycle repeats every {:g} ms; it was run {} times{} and the last one is shown", 1e3 * plan.period,
                  plan.repeats, answer.carried ? ", what the line holds carried ahead in between," : "");
  if (!answer.settled)
    text += fmt::format(
        ". It had not come to rest by then: it still differs from the one before by {:.2g} kPa, and what it comes to "
        "is "
        "not known",
        answer.drift / 1e3);
  notes.push_back(text);
}

constexpr const char* who = NozzleNotes::who;

/// The check valve nearest to the nozzle on its way to its source, an index into the line; none: `line::none`.
std::size_t check_valve_before(const line::Line& line, std::size_t nozzle) {
  const line::Topology topology = line::topology(line);
  std::size_t i = nozzle;
  while (i != line::none && line.elements[i].kind != line::Kind::check_valve) i = topology.before[i];
  return i;
}

/// Why a head's part stays on, and what would let it go.
void note_release(NozzleNotes& notes, const line::Line& line, const HeadCycle& head, bool ends) {
  const auto add = [&](const std::string& note) { notes.add(head.nozzle, note); };
  const bool stops = !line.cycle->pump_always_on && line.cycle->pump_off;
  if (!head.valve && stops) {
    if (head.let_go) return;
    if (const std::size_t check = check_valve_before(line, head.nozzle); check != line::none)
      add(fmt::format(
          "{} still holds its part when it leaves: check valve '{}' keeps out the air that what stands still would let "
          "back; add a valve with a vent on the nozzle's side of it",
          who, line.elements[check].name));
    else
      add(fmt::format(
          "{} still holds its part when it leaves: what stands still lets air back only through its back-leak; stop it "
          "sooner, or add a valve with a vent",
          who));
    return;
  }
  if (!head.valve) {
    add(fmt::format("{} has no valve on its way to the pump: it draws air all the time, and can't let go", who));
    return;
  }
  if (head.let_go) return;
  const line::Element& valve = line.elements[*head.valve];
  if (!valve.valve || !valve.valve->vent) {
    add(fmt::format(
        "valve '{}' has no vent: once it is closed the part of {} hangs on until leaks have filled the line; a vent "
        "would let it go",
        valve.name, who));
    return;
  }
  std::string help = "start the release sooner or retract later";
  if (!valve.valve->vent->blow_off) help += ", or blow off";
  if (ends) help += "; let the vent stay open longer, since what is left cools and shrinks once it is shut";
  add(fmt::format("{} still holds its part when it leaves: {}", who, help));
}

/// A number for people: three digits, and never an exponent however big.
std::string plain(double number) {
  return number < 999.5 ? fmt::format("{:.3g}", number) : fmt::format("{:.0f}", number);
}

/// A blow-off that throws a part further than it should.
void note_blow(NozzleNotes& notes, const line::Line& line, const HeadCycle& head) {
  const double weight = needed_vacuum(line, head.nozzle).to_rest;
  if (head.blow <= weight) return;
  notes.add(
      head.nozzle,
      fmt::format("under the part of {} the pressure rises {} above the room's, {} times what carries its weight: "
                  "it may be blown away; less blow-off, or a shorter vent-time, leaves it where it is put",
                  who, units::show_significant(head.blow, "kPa", 2), plain(head.blow / weight)));
}

void note_ejectors(std::vector<std::string>& notes, const line::Line& line, double period) {
  constexpr double litre = gas::free_air_density * 1e-3;  // kg
  const line::Cycle& cycle = *line.cycle;
  double on = period;
  if (!cycle.pump_always_on && cycle.pump_off) on = cycle.pump_off->value;
  for (const line::Element& e : line.elements)
    if (e.pump && e.pump->consumption)
      notes.push_back(fmt::format("ejector '{}' uses {} L of free air a cycle, {} L a minute {}", e.name,
                                  plain(e.pump->consumption->value * on / litre),
                                  plain(60.0 * e.pump->consumption->value * (cycle.period ? on / period : 1.0) / litre),
                                  cycle.period ? "as the cycle repeats" : "while it runs"));
}

}  // namespace

std::vector<std::string> notes_of(const line::Line& line, const CycleAnswer& answer, const Plan& plan) {
  std::vector<std::string> notes;
  note_repeats(notes, answer, plan);
  NozzleNotes heads;
  for (const HeadCycle& head : answer.heads) {
    if (head.seat != line::Seat::closed) {
      heads.add(head.nozzle, head.why_not_closed + "; its mouth is taken to stay open");
      continue;
    }
    note_release(heads, line, head, line.cycle->vent_time.has_value());
    note_blow(heads, line, head);
  }
  for (std::string& note : heads.sentences(line)) notes.push_back(std::move(note));
  if (const std::string own = own_parts_note(line); !own.empty()) notes.push_back(own);
  note_ejectors(notes, line, plan.period);
  return notes;
}

}  // namespace airtally::study
