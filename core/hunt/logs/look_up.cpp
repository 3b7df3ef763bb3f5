#include "hunt/logs/look_up.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hunt/beliefs/unknowns.hpp"
#include "hunt/logs/logged.hpp"
#include "hunt/logs/shut_off.hpp"
#include "hunt/readings/noted.hpp"

namespace airtally::hunt {
namespace {

using line::Note;

/// Looks up the notes of one line, gathering complaints.
class LookUp {
 public:
  explicit LookUp(const line::Line& line) : line_(line), noted_(line, complaints_) {}

  void add(const line::Notes& notes) {
    const auto first = static_cast<std::ptrdiff_t>(complaints_.size());
    std::optional<std::size_t> gauge;
    if (!notes.gauge.empty()) gauge = noted_.element(notes.gauge, notes.gauge_at);
    for (const Note& note : notes.list) {
      const std::size_t before = complaints_.size();
      Reading reading;
      reading.where = note.where;
      reading.value = note.value;
      reading.instrument = instrument_of(note.of);
      reading.setting = noted_.setting(note);
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

  void find_shut(const Note& note, Reading& reading) {
    std::optional<std::size_t> shut = shut_off(line_);
    if (!note.shut.empty() && !(shut = noted_.element(note.shut, note.shut_at))) return;
    reading.at = *shut;
    if (!noted_.on(reading.setting, *shut))
      complain(note.where, fmt::format("with the line {}, '{}' is off and can't have shut.",
                                       noted_.done(reading.setting), line_.elements[*shut].name));
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
      if (!(at = noted_.element(note.at, note.at_at))) return;
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
    if (!noted_.on(reading.setting, *at))
      complain(note.where,
               fmt::format("with the line {} the instrument at '{}' is off with the rest; say with 'at' what was read.",
                           noted_.done(reading.setting), e.name));
  }

  const line::Line& line_;
  std::vector<Complaint> complaints_;
  Noted noted_;
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
