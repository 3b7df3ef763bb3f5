#include "hunt/logs/look_up.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hunt/beliefs/unknowns.hpp"
#include "hunt/logs/logged.hpp"
#include "hunt/logs/shut_off.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "units/suggest.hpp"

namespace airtally::hunt {
namespace {

using line::Note;
using solve::TipState;

/// Looks up the notes of one line, gathering complaints.
class LookUp {
 public:
  explicit LookUp(const line::Line& line)
      : line_(line), topology_(line::topology(line)), nozzles_(line::all_of(line, line::Kind::nozzle)) {}

  void add(const line::Notes& notes) {
    const auto first = static_cast<std::ptrdiff_t>(complaints_.size());
    std::optional<std::size_t> gauge;
    if (!notes.gauge.empty()) gauge = element(notes.gauge, notes.gauge_at);
    for (const Note& note : notes.list) {
      const std::size_t before = complaints_.size();
      Reading reading;
      reading.where = note.where;
      reading.value = note.value;
      reading.instrument = instrument_of(note.of);
      reading.setting.hole = note.hole;
      if (!note.cap.empty()) reading.setting.cap = element(note.cap, note.cap_at);
      reading.setting.tips = tips(note);
      if (note.of == Note::Of::decay)
        find_shut(note, reading);
      else
        find_instrument(note, gauge, reading);
      reading.noise = note.deviation;
      if (complaints_.size() == before) take_log(note, reading);
      if (complaints_.size() == before) readings.list.push_back(std::move(reading));
    }
    std::stable_sort(complaints_.begin() + first, complaints_.end(), [](const Complaint& a, const Complaint& b) {
      return a.at.line != b.at.line ? a.at.line < b.at.line : a.at.column < b.at.column;
    });
    const auto meter = [](const std::optional<line::NoteMeter>& stated, std::optional<Meter>& into) {
      if (stated) into = Meter{stated->accuracy, std::max(stated->repeatability, 0.0), stated->resolution};
    };
    meter(notes.gauge_meter, readings.bench.gauge);
    meter(notes.ammeter, readings.bench.ammeter);
    meter(notes.flow_meter, readings.bench.flow_meter);
    meter(notes.plug_gauge, readings.bench.plug_gauge);
    if (notes.plates) readings.bench.plates = notes.plates;
    if (notes.discharge) readings.bench.discharge = notes.discharge;
    const auto plugged = [](const Note& note) { return note.of == Note::Of::plugged; };
    if (!readings.bench.plug_gauge && std::any_of(notes.list.begin(), notes.list.end(), plugged))
      readings.bench.plug_gauge = Meter{};
    if (notes.gauge_meter && notes.gauge_meter->repeatability >= 0.0)
      readings.bench.gauge_repeatability = notes.gauge_meter->repeatability;
  }

  /// What is written of a reading itself comes on top of what its instrument is good to.
  void add_instruments_noise() {
    for (Reading& reading : readings.list)
      if (reading.noise > 0.0 && reading.instrument != Instrument::inflow)
        reading.noise =
            std::hypot(reading.noise, meter_at(line_, readings.bench, reading.instrument, reading.at).noise());
  }

  void throw_if_any() {
    if (!complaints_.empty()) throw BadInput(complaints_);
  }

  Readings readings;

 private:
  static Instrument instrument_of(Note::Of of) {
    switch (of) {
      case Note::Of::plugged:
        return Instrument::plugged;
      case Note::Of::current:
        return Instrument::current;
      case Note::Of::flow:
        return Instrument::flow;
      case Note::Of::decay:
        return Instrument::inflow;
      default:
        return Instrument::vacuum;
    }
  }

  void complain(const Position& at, std::string sentence) { complaints_.push_back({at, std::move(sentence)}); }

  std::optional<std::size_t> element(const std::string& name, const Position& at) {
    if (const auto found = line::find(line_, name)) return found;
    std::vector<std::string_view> names;
    for (const line::Element& e : line_.elements) names.push_back(e.name);
    const auto near = units::nearest(name, names);
    complain(at, fmt::format("the line has no element '{}'; it has {}.{}", name, fmt::join(names, ", "),
                             near ? fmt::format(" Did you mean '{}'?", *near) : ""));
    return std::nullopt;
  }

  std::vector<TipState> tips(const Note& note) {
    std::vector<TipState> states = solve::usual_tips(line_);
    for (const std::string& text : note.tips) {
      const std::size_t equals = text.rfind('=');
      const std::string word = text.substr(equals == std::string::npos ? 0 : equals + 1);
      const auto state = word == "open"      ? std::optional(TipState::open)
                         : word == "part"    ? std::optional(TipState::part)
                         : word == "blocked" ? std::optional(TipState::blocked)
                                             : std::nullopt;
      if (!state) {
        complain(note.tip_at, fmt::format("'{}' is no state of a tip; say open, part or blocked.", word));
      } else if (state == TipState::part && !line_.part) {
        complain(note.tip_at, "the tip can't carry a part: the line file has no [part].");
      } else if (equals == std::string::npos) {
        std::fill(states.begin(), states.end(), *state);
      } else if (const auto nozzle = element(text.substr(0, equals), note.tip_at)) {
        const auto k = std::find(nozzles_.begin(), nozzles_.end(), *nozzle);
        if (k == nozzles_.end())
          complain(note.tip_at, fmt::format("'{}' is no nozzle.", line_.elements[*nozzle].name));
        else
          states[static_cast<std::size_t>(k - nozzles_.begin())] = *state;
      }
    }
    return states;
  }

  void find_shut(const Note& note, Reading& reading) {
    std::optional<std::size_t> shut = shut_off(line_);
    if (!note.shut.empty() && !(shut = element(note.shut, note.shut_at))) return;
    reading.at = *shut;
    if (reading.setting.cap && line::cap(line_, topology_, *reading.setting.cap).index[*shut] == line::none)
      complain(note.where, fmt::format("with the line capped behind '{}', '{}' is off and can't have shut.",
                                       line_.elements[*reading.setting.cap].name, line_.elements[*shut].name));
  }

  void take_log(const Note& note, Reading& reading) {
    if (!note.log) return;
    try {
      if (note.of == Note::Of::decay)
        take_decay(line_, note, reading, readings.remarks);
      else
        reading.value = end_of_rise(*note.log);
    } catch (const BadInput& error) {
      for (const Complaint& complaint : error.complaints()) complaints_.push_back(complaint);
    }
  }

  void find_instrument(const Note& note, std::optional<std::size_t> gauge, Reading& reading) {
    if (reading.instrument == Instrument::plugged) {
      reading.at = reading.setting.cap.value_or(0);
      return;
    }
    const std::vector<std::size_t> all = gauges(line_);
    std::optional<std::size_t> at;
    if (!note.at.empty()) {
      if (!(at = element(note.at, note.at_at))) return;
    } else if (reading.instrument == Instrument::vacuum) {
      at = gauge.value_or(all.front());
    } else {
      for (std::size_t i = line_.elements.size(); i-- > 0;)
        if (line::is_source(line_.elements[i].kind)) at = i;
    }
    const line::Element& e = line_.elements[*at];
    reading.at = *at;
    if (reading.instrument == Instrument::vacuum && std::find(all.begin(), all.end(), *at) == all.end())
      complain(note.at_at.line ? note.at_at : note.where,
               fmt::format("'{}' carries no gauge; give it one in the line file: gauge = {{ accuracy = \"0.5 kPa\", "
                           "resolution = \"0.1 kPa\" }}.",
                           e.name));
    if (reading.instrument != Instrument::vacuum && !line::is_source(e.kind))
      complain(note.at_at, fmt::format("'{}' is no source: current and flow are read at a pump or ejector.", e.name));
    else if (reading.instrument == Instrument::current && e.pump->current.empty())
      complain(note.where, fmt::format("the line file says nothing of the current that '{}' draws; add its curve: "
                                       "current = [[\"0 kPa\", \"210 mA\"], ...].",
                                       e.name));
    if (!reading.setting.cap) return;
    const line::Capped capped = line::cap(line_, topology_, *reading.setting.cap);
    if (capped.index[*at] == line::none)
      complain(note.where,
               fmt::format("with the line capped behind '{}' the instrument at '{}' is off with the rest; say "
                           "with 'at' what was read.",
                           line_.elements[*reading.setting.cap].name, e.name));
  }

  const line::Line& line_;
  line::Topology topology_;
  std::vector<std::size_t> nozzles_;
  std::vector<Complaint> complaints_;
};

}  // namespace

Readings look_up(const line::Line& line, const std::vector<line::Notes>& files) {
  LookUp look_up(line);
  for (const line::Notes& notes : files) look_up.add(notes);
  look_up.throw_if_any();
  look_up.add_instruments_noise();
  return std::move(look_up.readings);
}

}  // namespace airtally::hunt
