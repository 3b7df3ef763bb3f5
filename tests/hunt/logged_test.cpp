#include "hunt/logs/logged.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "gas/air.hpp"
#include "hunt/bench.hpp"
#include "hunt/fit/shut_leak.hpp"
#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"
#include "hunt/logs/decay.hpp"
#include "hunt/logs/look_up.hpp"
#include "hunt/logs/shut_off.hpp"
#include "line/variant.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double ml_min = 1.185 / 60e6;

/// A log of a closed `volume` [m3] with a laminar leak of `leak` [kg/s] at 60 kPa of vacuum, from 65 kPa down, a
/// hundred rows a tenth of a second apart: p = p_amb tanh(atanh(p0/p_amb) + s p_amb t/(p_amb^2 - p_ref^2)), s = m R
/// T/V.
line::Log decaying(double leak, double volume) {
  line::Log log;
  log.file = "decay.csv";
  const double ambient = 101325.0, reference = 41325.0, slope = leak * gas::R * 293.15 / volume;
  const double rate = slope * ambient / (ambient * ambient - reference * reference);
  for (int row = 0; row <= 100; ++row) {
    log.time.push_back(0.005 * row / rate);
    log.vacuum.push_back(ambient -
                         ambient * std::tanh(std::atanh((ambient - 65e3) / ambient) + rate * log.time.back()));
  }
  return log;
}

line::Note note_of(line::Note::Of of, line::Log log) {
  line::Note note;
  note.of = of;
  note.log_file = log.file;
  note.log = std::move(log);
  note.tips = {"blocked"};
  note.where = {"r.toml", 3, 1};
  return note;
}

Readings look_up_all(const line::Line& line, std::vector<line::Note> list) {
  line::Notes notes;
  notes.file = "r.toml";
  notes.list = std::move(list);
  return look_up(line, {notes});
}

std::string trouble(const line::Note& note) {
  try {
    look_up_all(tests::bench_line(), {note});
  } catch (const BadInput& error) {
    return error.what();
  }
  return "none";
}

}  // namespace

TEST_CASE("what leaks into what was shut off is what its elements leak", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, {});
  const line::Topology topology = line::topology(all.line);
  const std::size_t filter = *line::find(line, "filter"), joint = *line::find(line, "joint"),
                    nozzle = *line::find(line, "nozzle");
  const std::vector<double> values(all.unknowns.size(), 2.0);
  const Setting whole{{}, 0.0, {solve::TipState::blocked}};
  const ShutLeak behind_filter(all, topology, whole, filter);
  CHECK(behind_filter.inside() == std::vector{joint, nozzle});
  CHECK_THAT(behind_filter.at(values), WithinRel(2.0 * (all.leak_at_one[joint] + all.leak_at_one[nozzle]), 1e-9));
  // Capped behind the joint, the nozzle is off.
  const ShutLeak capped(all, topology, {joint, 0.0, {solve::TipState::blocked}}, filter);
  CHECK_THAT(capped.at(values), WithinRel(2.0 * all.leak_at_one[joint], 1e-9));
  // A pump's own valves shut it off: all leaks count, its own too.
  CHECK(ShutLeak(all, topology, whole, 0).inside().size() == line.elements.size());
  // The air through a drilled plate is no leak of the joint: a choked hole, C = 0.2e-8 d^2/mm2 m3/(s Pa) at most.
  const ShutLeak drilled(all, topology, {joint, 0.5e-3, {solve::TipState::blocked}}, filter);
  const double hole = drilled.at(values) - capped.at(values);
  CHECK(hole > 1e-6);
  CHECK(drilled.slopes() == capped.slopes());
}

TEST_CASE("decay logs tell the culprit without a single reading of a gauge", "[hunt][property]") {
  // The joint leaks 800 mL/min and all else what a healthy one may; clamped behind the filter, whole and
  // capped.
  const line::Line line = tests::bench_line();
  const double volume = shut_volume(line, *line::find(line, "filter"));
  line::Note whole = note_of(line::Note::Of::decay, decaying(805.0 * ml_min, volume));
  whole.shut = "filter";
  line::Note before_joint = note_of(line::Note::Of::decay, decaying(8.0 * ml_min, 5e-6));
  before_joint.shut = "pump";
  before_joint.cap = "filter";
  before_joint.volume = units::Quantity::normal(5e-6, 2e-7);
  line::Note without_nozzle = whole;
  without_nozzle.cap = "joint";
  without_nozzle.log = decaying(802.0 * ml_min, 0.1e-6);
  without_nozzle.volume = units::Quantity::normal(0.1e-6, 4e-9);
  const Readings readings = look_up_all(line, {whole, before_joint, without_nozzle});
  REQUIRE(readings.list.size() == 3);
  CHECK(readings.list[0].instrument == Instrument::inflow);
  CHECK_THAT(readings.list[0].value, WithinRel(805.0 * ml_min, 0.01));
  // Ten per cent of the volume at two standard deviations, and next to nothing of the fit.
  CHECK_THAT(readings.list[0].noise / readings.list[0].value, WithinAbs(0.05, 0.01));
  const Hunt found = hunt::hunt(line, readings);
  CHECK(line.elements[found.elements.front().element].name == "joint");
  CHECK(found.elements.front().worst_probability > enough_for_verdict);
  // With the tip blocked in all of them none says how a part sits, and nothing else is left.
  CHECK(verdict(found) == Verdict::rivalled);
  CHECK(found.rivals == std::vector{*line::find(line, "nozzle")});
  CHECK(found.elements.front().leak.low < 800.0 * ml_min);
  CHECK(found.elements.front().leak.high > 800.0 * ml_min);
  CHECK(found.elements.front().leak.high < 900.0 * ml_min);
  CHECK_FALSE(found.quality.bad);
}

TEST_CASE("a decay of a capped line counts the volume that is left of it", "[hunt][property]") {
  // Clamped behind the hose and capped behind the joint: the tee's, the filter's and the joint's volumes.
  const line::Line line = tests::bench_line();
  const std::size_t hose = *line::find(line, "hose"), joint = *line::find(line, "joint");
  const line::Capped capped = line::cap(line, line::topology(line), joint);
  const double volume = shut_volume(capped.line, capped.index[hose]);
  CHECK_THAT(volume, WithinRel(bore_volume(line.elements[joint]), 1e-9));  // tee and filter have none of their own
  CHECK_THAT(shut_volume(line, hose) - volume, WithinRel(shut_volume(line, joint), 1e-9));
  line::Note note = note_of(line::Note::Of::decay, decaying(50.0 * ml_min, volume));
  note.tips.clear();
  note.cap = "joint";
  note.shut = "hose";
  const Readings readings = look_up_all(line, {note});
  REQUIRE(readings.list.size() == 1);
  CHECK_THAT(readings.list[0].value, WithinRel(50.0 * ml_min, 0.01));
}

TEST_CASE("a leak's log and a gauge's readings agree on one line", "[hunt][property]") {
  // The same leak seen both ways leaves it known better than by the gauge alone.
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, {});
  const std::size_t joint = *line::find(line, "joint");
  const std::vector<double> z = tests::with(all, What::leak, joint, 50.0 * ml_min / all.leak_at_one[joint]);
  Readings readings;
  for (const char* cap : {"tee", "filter", "joint", "nozzle"}) {
    Reading reading = tests::capped(line, cap);
    Rig rig(all, line::topology(all.line), reading.setting);
    rig.solve(all.values(z));
    reading.value = rig.read(Instrument::vacuum, reading.at, all.values(z));
    readings.list.push_back(reading);
  }
  const auto leak = [&](const Hunt& found) {
    for (const Finding& f : found.elements)
      if (f.element == joint) return f.leak;
    return Interval{};
  };
  const Interval by_gauge = leak(hunt::hunt(line, readings));
  Reading log;
  log.setting = {{}, 0.0, {solve::TipState::blocked}};
  log.at = *line::find(line, "filter");
  log.instrument = Instrument::inflow;
  log.value = ShutLeak(all, line::topology(all.line), log.setting, log.at).at(all.values(z));
  log.noise = 0.02 * log.value;
  readings.list.push_back(log);
  const Interval by_both = leak(hunt::hunt(line, readings));
  CHECK(by_both.high - by_both.low < 0.5 * (by_gauge.high - by_gauge.low));
  CHECK(by_both.low < 50.0 * ml_min);
  CHECK(by_both.high > 50.0 * ml_min);
}

TEST_CASE("the end of a rise counts as a reading of its gauge", "[hunt][property]") {
  line::Log log;
  log.file = "rise.csv";
  for (int row = 0; row <= 100; ++row) {
    log.time.push_back(0.05 * row);
    log.vacuum.push_back(60e3 * (1.0 - std::exp(-log.time.back() / 0.3)));
  }
  CHECK_THAT(end_of_rise(log), WithinRel(60e3, 1e-5));
  const line::Line line = tests::bench_line();
  const Readings readings = look_up_all(line, {note_of(line::Note::Of::rise, log)});
  REQUIRE(readings.list.size() == 1);
  CHECK(readings.list[0].instrument == Instrument::vacuum);
  CHECK(readings.list[0].at == *line::find(line, "tee"));
  CHECK_THAT(readings.list[0].value, WithinRel(60e3, 1e-5));
  // Cut short, it says nothing of where the vacuum would have ended.
  log.time.resize(20), log.vacuum.resize(20);
  CHECK_THROWS_WITH(end_of_rise(log), Contains("still moves at its end"));
  log.time.resize(4), log.vacuum.resize(4);
  CHECK_THROWS_WITH(end_of_rise(log), Contains("too few rows"));
}

TEST_CASE("a log that can't be evidence says why", "[hunt][property]") {
  line::Note note = note_of(line::Note::Of::decay, decaying(50.0 * ml_min, 10e-6));
  CHECK(trouble(note) == "none");
  line::Note open = note;
  open.tips = {"open"};
  CHECK_THAT(trouble(open), Contains("r.toml:3:1: a decay is logged with nothing open: block the tip 'nozzle'"));
  line::Note unknown = note;
  unknown.shut = "jont";
  CHECK_THAT(trouble(unknown), Contains("Did you mean 'joint'?"));
  line::Note off = note;
  off.cap = "tee";
  off.shut = "joint";
  CHECK_THAT(trouble(off), Contains("'joint' is off and can't have shut"));
  line::Note none = note;
  none.shut = "nozzle";
  CHECK_THAT(trouble(none), Contains("there is no volume on the tip's side of 'nozzle'"));
  line::Note flat = note;
  flat.log->vacuum.assign(flat.log->time.size(), 60e3);
  CHECK(trouble(flat) == "none");
  line::Note opened = note;
  std::fill(opened.log->vacuum.begin() + 50, opened.log->vacuum.end(), 0.0);
  CHECK_THAT(trouble(opened), Contains("the log is not how one volume, shut off, loses its vacuum"));
  line::Note torn = note;
  std::fill(torn.log->vacuum.begin() + 1, torn.log->vacuum.end(), 0.0);
  CHECK_THAT(trouble(torn), Contains("which tells but a least leak"));
}

TEST_CASE("a log that temperature or outgassing explains comes with a remark", "[hunt][property]") {
  line::Log slow;
  slow.file = "decay.csv";
  for (int row = 0; row <= 100; ++row) slow.time.push_back(row), slow.vacuum.push_back(60e3 - 0.5 * row);
  line::Note note = note_of(line::Note::Of::decay, slow);
  note.volume = units::Quantity::normal(50e-6, 1e-6);
  const Readings readings = look_up_all(tests::bench_line(), {note});
  REQUIRE(readings.remarks.size() == 1);
  CHECK_THAT(readings.remarks.front(), Contains("decay.csv: a change of temperature by"));
}

// From 70 to 68.4 kPa in whole digits: a seal's course and a hole's fit alike and mean rates that are apart by more
// than either is unsure of.
TEST_CASE("a log that does not tell a seal from a hole is as unsure a reading as both are", "[hunt][property]") {
  line::Log even;
  even.file = "decay.csv";
  even.step = 100.0;
  for (int row = 0; row <= 40; ++row) even.time.push_back(row), even.vacuum.push_back(70e3 - 40.0 * row);
  line::Note note = note_of(line::Note::Of::decay, even);
  note.volume = units::Quantity(50e-6);
  const line::Line line = tests::bench_line();
  const Decay decay = fit_decay(even, line.site, 0.5);
  REQUIRE_FALSE(tells_inflow(decay));
  const Readings readings = look_up_all(line, {note});
  REQUIRE(readings.list.size() == 1);
  const double per_rate = 50e-6 / (gas::R * line.site.temperature), noise = readings.list[0].noise / per_rate;
  CHECK(noise > 0.999 * decay.deviation);
  for (const DecayCourse& one : decay.courses) {
    CHECK(noise > one.deviation);
    CHECK(std::fabs(one.rate - readings.list[0].value / per_rate) < 2.0 * noise);
  }
}

// The most that a tight log could hide is one-sided above nothing: 1.645 standard deviations.
TEST_CASE("a log that loses nothing counts as no leak, as well as it can tell", "[hunt][property]") {
  line::Log flat;
  flat.file = "decay.csv";
  flat.step = 100.0;
  for (int row = 0; row <= 100; ++row) flat.time.push_back(row), flat.vacuum.push_back(60e3);
  line::Note note = note_of(line::Note::Of::decay, flat);
  note.volume = units::Quantity(50e-6);
  const Readings readings = look_up_all(tests::bench_line(), {note});
  REQUIRE(readings.list.size() == 1);
  CHECK_THAT(readings.list[0].value, WithinAbs(0.0, 1e-6 * ml_min));
  const double most = leak_of(fit_decay(flat, tests::bench_line().site, 0.5), 50e-6, tests::bench_line().site).high;
  CHECK_THAT(readings.list[0].noise, WithinRel(most / 1.6448536, 1e-6));
  REQUIRE(readings.remarks.size() == 1);
  CHECK_THAT(readings.remarks.front(), Contains("decay.csv: shows no loss of vacuum, and counts as a leak of "));
}
