#include "hunt/verdict/rivals.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "hunt/bench.hpp"
#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"
#include "hunt/next/parting.hpp"
#include "solve/answer.hpp"

using namespace airtally;
using namespace airtally::hunt;

namespace {

/// The line's readings, without noise, with one element leaking by 500 mL/min: with these capped, or the part on.
struct LeakingLine {
  line::Line line;
  Suspects all = suspects(line, {});
  Readings readings;

  LeakingLine(const std::string& culprit, const std::vector<std::string>& caps, line::Line on = tests::bench_line())
      : line(std::move(on)) {
    const std::size_t i = *line::find(line, culprit);
    const std::vector<double> z = tests::with(all, What::leak, i, 500.0 * 1.185 / 60e6 / all.leak_at_one[i]);
    for (const std::string& cap : caps) {
      Reading reading = cap == "part" ? whole() : tests::capped(line, cap);
      Rig rig(all, line::topology(all.line), reading.setting);
      rig.solve(all.values(z));
      reading.value = rig.read(Instrument::vacuum, reading.at, all.values(z));
      readings.list.push_back(reading);
    }
  }

  /// The tee's gauge with the part on.
  Reading whole() const {
    return {{{}, 0.0, solve::usual_tips(line)}, Instrument::vacuum, *line::find(line, "tee"), 0.0, 0.0, {}};
  }

  std::set<std::string> rivals(const std::string& blamed) {
    Evidence evidence(all, readings.list, {});
    std::set<std::string> names;
    for (const Rival& rival :
         rivals_of(all, evidence, find_modes(all, evidence), solve::usual_tips(line), *line::find(line, blamed)))
      names.insert(line.elements[rival.element].name);
    return names;
  }
};

}  // namespace

TEST_CASE("what no cap has parted from the blamed is its rival", "[hunt][property]") {
  // Everything behind the tee may leak; the tee and what is before it are cleared by the first reading. A joint that
  // leaks as one does anyhow leaves the nozzle in question until the part was on it: it may not seal.
  CHECK(LeakingLine("joint", {"tee", "nozzle"}).rivals("joint") == std::set<std::string>{"filter", "nozzle"});
  CHECK(LeakingLine("joint", {"tee", "filter", "nozzle"}).rivals("joint") == std::set<std::string>{"nozzle"});
  CHECK(LeakingLine("joint", {"tee", "joint", "nozzle", "part"}).rivals("joint") == std::set<std::string>{"filter"});
  CHECK(LeakingLine("joint", {"tee", "filter", "joint", "nozzle"}).rivals("joint") == std::set<std::string>{"nozzle"});
  CHECK(LeakingLine("joint", {"tee", "filter", "joint", "nozzle", "part"}).rivals("joint").empty());
}

TEST_CASE("an element that leaks by design keeps no rival from being one", "[hunt][property]") {
  // The joint leaks by design two thirds of what the filter leaks by accident, and that is known to two per cent. The
  // accident may as well be the nozzle's; or none leaks more than filed, and a pump that has lost flow holds less
  // against what the joint lets in.
  line::Line line = tests::bench_line();
  const double by_design = 330.0 * 1.185 / 60e6;
  line.elements[*line::find(line, "joint")].leaks = {
      line::RatedLeak{units::Quantity::normal(by_design, 0.02 * by_design), 60e3, false}};
  CHECK(LeakingLine("filter", {"tee", "nozzle"}, line).rivals("filter") == std::set<std::string>{"nozzle", "pump"});
}

TEST_CASE("a rival's state of the line explains the readings", "[hunt][property]") {
  LeakingLine bench("joint", {"tee", "nozzle"});
  Evidence evidence(bench.all, bench.readings.list, {});
  const std::size_t joint = *line::find(bench.line, "joint");
  const std::vector<Rival> rivals =
      rivals_of(bench.all, evidence, find_modes(bench.all, evidence), solve::usual_tips(bench.line), joint);
  REQUIRE_FALSE(rivals.empty());
  std::vector<double> misfit(evidence.size());
  for (const Rival& rival : rivals) {
    REQUIRE(evidence.evaluate(rival.z, misfit, {}));
    for (double r : misfit) CHECK(std::abs(r) < 3.0);
    CHECK(rival.worse < parted);
  }
}

TEST_CASE("the test that leaves the fewest rivals comes first, whatever was thought of it", "[hunt][property]") {
  // The filter alone is left. A repeated reading can't clear it, however often it is put first.
  LeakingLine bench("joint", {"tee", "joint", "nozzle", "part"});
  Evidence evidence(bench.all, bench.readings.list, {});
  const auto tips = solve::usual_tips(bench.line);
  const std::size_t joint = *line::find(bench.line, "joint"), tee = *line::find(bench.line, "tee");
  const std::vector<Mode> modes = find_modes(bench.all, evidence);
  const std::vector<Rival> rivals = rivals_of(bench.all, evidence, modes, tips, joint);
  REQUIRE(rivals.size() == 1);
  std::vector<NextTest> tests;
  for (const char* cap : {"joint", "nozzle", "tee", "joint", "filter"})
    tests.push_back({{*line::find(bench.line, cap), 0.0, tips}, {{Instrument::vacuum, tee}}});
  put_parting_first(bench.all, evidence, {}, modes, tips, joint, rivals, tests);
  CHECK(tests.size() == 5);
  CHECK(bench.line.elements[*tests.front().setting.cap].name == "filter");
  CHECK(bench.line.elements[*tests[1].setting.cap].name == "joint");  // the others as they were
}

TEST_CASE("what would only be read again speaks against no rival by the misfit that it has already",
          "[hunt][property]") {
  // The rival is off by a few tenths of a kilopascal at two caps; each of them once more would count that twice.
  LeakingLine bench("joint", {"tee", "joint", "nozzle"});
  for (Reading& reading : bench.readings.list)
    if (reading.setting.cap == line::find(bench.line, "joint")) reading.value += 300.0;
  Evidence evidence(bench.all, bench.readings.list, {});
  const auto tips = solve::usual_tips(bench.line);
  const std::size_t joint = *line::find(bench.line, "joint"), tee = *line::find(bench.line, "tee");
  const std::vector<Mode> modes = find_modes(bench.all, evidence);
  const std::vector<Rival> rivals = rivals_of(bench.all, evidence, modes, tips, joint);
  REQUIRE_FALSE(rivals.empty());
  std::vector<NextTest> tests;
  for (const char* cap : {"joint", "nozzle", "tee"})
    tests.push_back({{*line::find(bench.line, cap), 0.0, tips}, {{Instrument::vacuum, tee}}});
  CHECK_FALSE(put_parting_first(bench.all, evidence, {}, modes, tips, joint, rivals, tests));
}

TEST_CASE("a pump worn as pumps do leaves all that no reading has cleared", "[hunt][property]") {
  // Only the pump was read, by blind and drilled caps on the tee, well within what pumps wear: whatever is beyond may
  // be worse.
  line::Line line = tests::bench_line();
  line.elements[*line::find(line, "joint")].leaks = {line::RatedLeak{units::Quantity::normal(2e-8, 2e-9), 60e3, false}};
  const Suspects all = suspects(line, {});
  std::vector<double> z(all.unknowns.size(), 0.0);
  for (std::size_t k = 0; k < z.size(); ++k)
    if (all.unknowns[k].what == What::pump_flow) z[k] = -0.5;
  std::vector<Reading> readings;
  for (const double hole : {0.0, 0.3e-3, 0.5e-3, 0.8e-3, 1.2e-3}) {
    Reading reading = tests::capped(line, "tee");
    reading.setting.hole = hole;
    Rig rig(all, line::topology(all.line), reading.setting);
    rig.solve(all.values(z));
    reading.value = rig.read(Instrument::vacuum, reading.at, all.values(z));
    readings.push_back(reading);
  }
  Evidence evidence(all, readings, {});
  std::set<std::string> names;
  for (const Rival& rival : rivals_of(all, evidence, find_modes(all, evidence), {solve::TipState::open}, 0))
    names.insert(line.elements[rival.element].name);
  // Closed, these would cost the open tip as much, and no reading had air flow through them.
  CHECK(names == std::set<std::string>{"filter", "joint"});
}

TEST_CASE("the usual suspect is no verdict until a cap has parted it from its neighbours", "[hunt][property]") {
  LeakingLine early("joint", {"tee", "nozzle"});
  const Hunt guessed = hunt::hunt(early.line, early.readings);
  const std::size_t joint = *line::find(early.line, "joint");
  CHECK(guessed.elements.front().element == joint);
  CHECK(guessed.elements.front().worst_probability > enough_for_verdict);
  CHECK(verdict(guessed) == Verdict::rivalled);
  // It then wants a cap that parts it from one of them.
  REQUIRE_FALSE(guessed.next.empty());
  REQUIRE(guessed.next.front().setting.cap);
  CHECK((guessed.next.front().setting.cap == joint ||
         guessed.next.front().setting.cap == *line::find(early.line, "filter")));
  LeakingLine late("joint", {"tee", "filter", "joint", "nozzle", "part"});
  CHECK(verdict(hunt::hunt(late.line, late.readings)) == Verdict::sure);
}

TEST_CASE("with nothing wrong where it was read, the hunt looks where it wasn't", "[hunt][property]") {
  // The pump alone was read, and is as pumps are. By the file it is then the worst, by a hair; but parts drop.
  line::Line line = tests::bench_line();
  line.elements[*line::find(line, "joint")].leaks = {line::RatedLeak{units::Quantity::normal(2e-8, 2e-9), 60e3, false}};
  const Suspects all = suspects(line, {});
  Readings readings;
  readings.list.push_back(tests::capped(line, "tee"));
  Rig rig(all, line::topology(all.line), readings.list[0].setting);
  const std::vector<double> values = all.values(std::vector<double>(all.unknowns.size(), 0.0));
  rig.solve(values);
  readings.list[0].value = rig.read(Instrument::vacuum, readings.list[0].at, values);
  const Hunt found = hunt::hunt(line, readings);
  const auto hidden = [&](const char* name) {
    return std::count(found.hidden.begin(), found.hidden.end(), *line::find(line, name)) == 1;
  };
  CHECK(verdict(found) != Verdict::sure);
  CHECK(hidden("nozzle"));
  CHECK(hidden("filter"));
  CHECK_FALSE(hidden("joint"));  // which was measured by itself
  // The next test has the far end on the line.
  REQUIRE(further_test(found));
  const Setting& next = found.next.front().setting;
  CHECK((!next.cap || *next.cap > *line::find(line, "tee")));
}

TEST_CASE("what costs only what it does anyhow leaves a leak where none was read", "[hunt][property]") {
  // The joint costs what its clearance does, and each of its neighbours was parted from it; the nozzle was never on.
  LeakingLine bench("joint", {"tee", "filter", "joint"});
  const std::size_t joint = *line::find(bench.line, "joint");
  Evidence evidence(bench.all, bench.readings.list, {});
  const std::vector<Mode> modes = find_modes(bench.all, evidence);
  for (std::size_t k = 0; k < bench.all.unknowns.size(); ++k)
    if (bench.all.unknowns[k].element == joint && bench.all.unknowns[k].what == What::leak)
      CHECK(std::abs(modes.front().z[k]) < 1.75);
  CHECK(bench.rivals("joint") == std::set<std::string>{"nozzle"});
  // Once it was, with a part, no more; a filter that leaks as much is a fault by itself, and enough of a verdict.
  CHECK(LeakingLine("joint", {"tee", "filter", "joint", "nozzle", "part"}).rivals("joint").empty());
  CHECK(LeakingLine("filter", {"tee", "filter"}).rivals("filter").empty());
}
