#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "hunt/bench.hpp"
#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"
#include "hunt/readings/beside.hpp"
#include "line/topology.hpp"
#include "report/strip_readings.hpp"

using namespace airtally;
using namespace airtally::hunt;
using solve::TipState;

// Branches that are taken off where the line forks.

namespace {

/// A pump, a tee with the gauge, and `branches` hoses with a cup each on it; a plug in its last port where asked for.
line::Line lifter(int branches, bool plugged = false) {
  std::string text = R"(format = 1
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "16 L/min"], ["40 kPa", "6.6 L/min"], ["80 kPa", "0 L/min"]]
[[element]]
name = "fork"
kind = "tee"
gauge = { accuracy = "0.5 kPa", resolution = "0.1 kPa" }
)";
  for (int k = 1; k <= branches; ++k)
    text += "[[element]]\nname = \"hose " + std::to_string(k) +
            "\"\nkind = \"tube\"\nafter = \"fork\"\nbore = \"4 mm\"\nlength = \"0.3 m\"\n[[element]]\nname = \"cup " +
            std::to_string(k) + "\"\nkind = \"nozzle\"\nbore = \"2 mm\"\nlength = \"6 mm\"\nrim = \"12 mm\"\n";
  if (plugged) text += "[[element]]\nname = \"stop\"\nkind = \"plug\"\nafter = \"fork\"\n";
  text += "[part]\nmass = \"5 g\"\ngap = \"2 um\"\n";
  return read::read_line_text(text, "lifter.toml");
}

const std::vector<TipState> blocked(4, TipState::blocked);

/// What the gauge at the fork would show with one hose leaking and those branches off, to its step.
Reading read_without(const Suspects& all, const std::string& leaking, const std::vector<std::string>& off) {
  const line::Topology topology = line::topology(all.line);
  Setting setting{{}, 0.0, blocked};
  for (const std::string& name : off) setting.off.push_back(*line::find(all.line, name));
  setting = as_compared(all.line, topology, setting);
  const std::size_t leak = *line::find(all.line, leaking);
  Rig rig(all, topology, setting);
  const std::vector<double> values = all.values(tests::with(all, What::leak, leak, 2e-5 / all.leak_at_one[leak]));
  rig.solve(values);
  Reading reading;
  reading.setting = setting;
  reading.at = *line::find(all.line, "fork");
  reading.value = 100.0 * std::round(rig.read(Instrument::vacuum, reading.at, values) / 100.0);
  return reading;
}

double chance(const line::Line& line, const Hunt& hunt, const std::string& name) {
  for (const Finding& finding : hunt.elements)
    if (line.elements[finding.element].name == name) return finding.worst_probability;
  return 0.0;
}

}  // namespace

TEST_CASE("where the line forks each branch may be taken off, and the first few", "[hunt][property]") {
  const line::Line line = lifter(4, true);
  const Suspects all = suspects(line, {});
  std::vector<std::string> offered;
  for (const NextTest& test : possible_tests(all, {}, blocked)) {
    if (test.setting.off.empty()) continue;
    std::string names;
    for (const std::size_t i : test.setting.off) names += (names.empty() ? "" : ", ") + line.elements[i].name;
    offered.push_back(names);
    CHECK(test.effort == static_cast<double>(test.setting.off.size()));
    CHECK(test.setting.hole == 0.0);
  }
  std::sort(offered.begin(), offered.end());
  // The stopper is none: with all hoses off it stays.
  CHECK(offered == std::vector<std::string>{"hose 1", "hose 1, hose 2", "hose 1, hose 2, hose 3",
                                            "hose 1, hose 2, hose 3, hose 4", "hose 2", "hose 3", "hose 4"});
  // Nozzles that stand on one element themselves are blocked, not taken off.
  std::string text =
      "format = 1\n[[element]]\nname = \"pump\"\nkind = \"pump\"\ncurve = [[\"0 kPa\", \"8 L/min\"], "
      "[\"71 kPa\", \"0 L/min\"]]\n[[element]]\nname = \"plate\"\nkind = \"tee\"\n";
  for (int k = 1; k <= 4; ++k)
    text += "[[element]]\nname = \"hole " + std::to_string(k) +
            "\"\nkind = \"nozzle\"\nafter = \"plate\"\nbore = \"0.6 mm\"\nlength = \"2 mm\"\n";
  const line::Line plate = read::read_line_text(text, "plate.toml");
  std::vector<std::ptrdiff_t> few;
  for (const NextTest& test : possible_tests(suspects(plate, {}), {}, std::vector<TipState>(4, TipState::open))) {
    CHECK(test.setting.off.empty());
    const auto count = std::count(test.setting.tips.begin(), test.setting.tips.end(), TipState::blocked);
    if (test.setting.cap || count == 0 || count == 4) continue;
    few.push_back(count);
    CHECK(test.effort == static_cast<double>(count));
  }
  CHECK(few == std::vector<std::ptrdiff_t>{2, 3});
  const line::Line straight = tests::bench_line();
  for (const NextTest& test : possible_tests(suspects(straight, {}), {}, {TipState::blocked}))
    CHECK(test.setting.off.empty());
}

TEST_CASE("two branches off tell which pair it is, one more which branch", "[hunt][property]") {
  const line::Line line = lifter(4);
  const Suspects all = suspects(line, {});
  for (const std::string leaking : {"hose 1", "hose 2", "hose 4"}) {
    Readings readings;
    const auto branch = [&](const Hunt& found, int k) {
      return chance(line, found, "hose " + std::to_string(k)) + chance(line, found, "cup " + std::to_string(k));
    };
    readings.list.push_back(read_without(all, leaking, {}));
    const Hunt whole = hunt::hunt(line, readings);
    INFO(leaking);
    for (int k = 1; k <= 4; ++k) CHECK(branch(whole, k) < 0.3);

    readings.list.push_back(read_without(all, leaking, {"hose 1", "hose 2"}));
    const Hunt halved = hunt::hunt(line, readings);
    const bool first = leaking != "hose 4";
    CHECK(branch(halved, 1) + branch(halved, 2) == Approx(first ? 1.0 : 0.0).margin(0.03));
    // Of these two one more reading tells; if it is neither, pump and fork are suspects beside the other two.
    REQUIRE(further_test(halved));
    CHECK(halved.next.front().setting.off.empty() != first);

    readings.list.push_back(read_without(all, leaking, {first ? "hose 1" : "hose 4"}));
    const Hunt told = hunt::hunt(line, readings);
    CHECK(branch(told, leaking.back() - '0') > 0.95);
  }
}

TEST_CASE("beside the removal test a branch is held against the whole line", "[hunt][property]") {
  using Kind = BranchFinding::Kind;
  const line::Line line = lifter(4);
  const Suspects all = suspects(line, {});
  const study::Strip strip = study::strip(line, blocked);
  Readings readings;
  readings.list = {read_without(all, "hose 3", {"hose 1"}), read_without(all, "hose 3", {"hose 3"}),
                   read_without(all, "hose 3", {}), read_without(all, "hose 3", {"hose 1", "hose 2"})};
  readings.list.push_back(readings.list[2]);
  readings.list.back().setting.tips = solve::all_tips(line, TipState::open);  // is left out
  for (Reading& reading : readings.list) reading.value += 300.0;              // the gauge's own error, which goes out
  const BesideAll beside = hunt::beside(line, strip, readings);
  REQUIRE(beside.branches.size() == 4);
  CHECK(beside.others == 1);
  CHECK(beside.other_tips == TipState::open);
  CHECK(beside.list.empty());
  CHECK(beside.branches[0].off.empty());
  CHECK_FALSE(beside.branches[0].compared);
  CHECK_FALSE(beside.worst);
  REQUIRE(beside.branch_finding.kind == Kind::branch);
  const BesideBranch& worst = beside.branches[beside.branch_finding.reading];
  CHECK(worst.off == std::vector{*line::find(line, "hose 3")});
  const double brought = readings.list[1].value - readings.list[2].value;
  CHECK(brought > 2e3);
  CHECK(worst.surprise == Approx(worst.predicted - beside.branches[0].predicted - brought));
  const std::string text = report::strip_readings_text(line, strip, beside, {});
  CHECK_THAT(text, Catch::Contains("The branch that begins with the hose 3 costs") ||
                       Catch::Contains("The branch that begins with hose 3 costs"));
  CHECK_THAT(text, Catch::Contains("1 reading left out") && Catch::Contains("Taken with other tips"));

  // The whole line was not read: without one alone it is as filed.
  readings.list = {readings.list[0], readings.list[1]};
  CHECK(hunt::beside(line, strip, readings).branch_finding.kind == Kind::branch);
  // That one alone is no finding, the other is one that does not say where.
  CHECK(hunt::beside(line, strip, {{readings.list[1]}, {}, {}}).branch_finding.kind == Kind::none);
  CHECK(hunt::beside(line, strip, {{readings.list[0]}, {}, {}}).branch_finding.kind == Kind::elsewhere);
  // Two that bring it and two that hold it: the fewest.
  readings.list = {read_without(all, "hose 3", {}), read_without(all, "hose 3", {"hose 2", "hose 3"}),
                   read_without(all, "hose 3", {"hose 3"}), read_without(all, "hose 3", {"hose 2"})};
  const BesideAll fewest = hunt::beside(line, strip, readings);
  REQUIRE(fewest.branch_finding.kind == Kind::branch);
  CHECK(fewest.branches[fewest.branch_finding.reading].off == std::vector{*line::find(line, "hose 3")});
}

TEST_CASE("what no branch brings by itself is blamed on none", "[hunt][property]") {
  using Kind = BranchFinding::Kind;
  const line::Line line = lifter(3);
  const std::vector<TipState> open(3, TipState::open);
  const study::Strip strip = study::strip(line, open);
  const std::size_t fork = *line::find(line, "fork");
  const auto reading = [&](const line::Line& as_it_is, const std::vector<std::string>& off) {
    Reading one;
    one.setting = {{}, 0.0, open};
    for (const std::string& name : off) one.setting.off.push_back(*line::find(line, name));
    one.at = fork;
    const Cut left = cut(as_it_is, line::topology(as_it_is), one.setting);
    one.value = solve::steady(left.line, left.tips).elements[left.index[fork]].vacuum;
    return one;
  };
  const auto said = [&](const line::Line& as_it_is) {
    Readings readings;
    for (const std::vector<std::string>& off : {std::vector<std::string>{}, {"hose 1"}, {"hose 2"}, {"hose 3"}})
      readings.list.push_back(reading(as_it_is, off));
    return hunt::beside(line, strip, readings);
  };
  CHECK(said(line).branch_finding.kind == Kind::none);
  line::Line weak = line;
  weak.elements[0].pump->speed = 0.6;
  const BesideAll tired = said(weak);
  CHECK(tired.branch_finding.kind == Kind::elsewhere);
  CHECK_THAT(report::strip_readings_text(line, strip, tired, {}), Catch::Contains("no branch by itself brings that"));
  line::Line strong = line;
  strong.elements[0].pump->speed = 1.6;
  CHECK(said(strong).branch_finding.kind == Kind::above);
  Readings swapped;
  swapped.list = {reading(line, {}), reading(line, {"hose 1"})};
  std::swap(swapped.list[0].value, swapped.list[1].value);
  CHECK(hunt::beside(line, strip, swapped).branch_finding.kind == Kind::contradicted);
}
