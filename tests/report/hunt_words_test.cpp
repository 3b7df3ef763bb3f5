#include <catch2/catch.hpp>

#include "hunt/bench.hpp"
#include "report/hunt_text.hpp"
#include "report/page/sections.hpp"

using namespace airtally;

TEST_CASE("a test says what to do to the line, what to read and what to expect", "[report]") {
  const line::Line line = tests::bench_line("current = [[\"0 kPa\", \"210 mA\"], [\"71 kPa\", \"390 mA\"]]");
  const auto at = [&](const char* name) { return *line::find(line, name); };
  const auto sentence = [&](const hunt::NextTest& test) { return report::test_sentence(line, test, {}); };
  hunt::NextTest test;
  test.setting = {at("joint"), 0.0, {solve::TipState::part}};
  test.dials = {{hunt::Instrument::vacuum, at("tee"), 61.04e3}};
  test.effort = 2.0;
  CHECK(sentence(test) ==
        "Cap the line behind the joint (2 joints) and read the gauge at the tee (expect about 61.0 kPa).");
  test.setting.hole = 0.8e-3;
  test.effort = 1.0;
  CHECK(sentence(test) ==
        "Cap the line behind the joint with the plate that has a 0.8 mm hole (1 joint) and read the gauge at the tee "
        "(expect about 61.0 kPa).");
  test.setting.hole = 0.125e-3;
  CHECK(sentence(test) ==
        "Cap the line behind the joint with the plate that has a 0.125 mm hole (1 joint) and read the gauge at the tee "
        "(expect about 61.0 kPa).");
  // Nothing to undo: the last reading left it so.
  test.standing = true;
  test.setting.hole = 0.0;
  test.effort = 0.0;
  test.dials = {{hunt::Instrument::current, at("pump"), 0.3512}};
  CHECK(sentence(test) ==
        "Leave the line as it is, capped behind the joint, and read the ammeter of the pump (expect about 351.2 mA).");
  test.setting.cap = at("nozzle");
  CHECK(sentence(test) ==
        "Leave the line as it is, the nozzle blocked, and read the ammeter of the pump (expect about 351.2 mA).");
  test.standing = false;
  CHECK(sentence(test) == "Block the nozzle and read the ammeter of the pump (expect about 351.2 mA).");
  test.setting = {{}, 0.0, {solve::TipState::open}};
  CHECK(sentence(test) ==
        "Leave the line whole with the tip open and read the ammeter of the pump (expect about 351.2 mA).");
  test.dials.push_back({hunt::Instrument::vacuum, at("tee"), 61.04e3});
  CHECK(sentence(test) ==
        "Leave the line whole with the tip open and read the ammeter of the pump (expect about 351.2 mA) and the gauge "
        "at the tee (about 61.0 kPa).");
}

TEST_CASE("a test says which branches to take off, and what is left on the others", "[report]") {
  const line::Line line = tests::two_nozzles();
  const auto at = [&](const char* name) { return *line::find(line, name); };
  const auto sentence = [&](const hunt::NextTest& test) { return report::test_sentence(line, test, {}); };
  hunt::NextTest test;
  test.setting = {{}, 0.0, {solve::TipState::blocked, solve::TipState::open}, {at("hose one")}};
  test.dials = {{hunt::Instrument::vacuum, at("tee"), 61.04e3}};
  test.effort = 1.0;
  CHECK(sentence(test) ==
        "Take the hose one off the tee and block the opening (1 joint) with every remaining tip open and read the "
        "gauge at the "
        "tee (expect about 61.0 kPa).");
  test.standing = true;
  test.effort = 0.0;
  CHECK(sentence(test) ==
        "Leave the line as it is, without the hose one, with every remaining tip open, and read the gauge at the tee "
        "(expect "
        "about 61.0 kPa).");
  test.standing = false;
  test.effort = 2.0;
  test.setting = {{}, 0.0, {solve::TipState::blocked, solve::TipState::part}};
  CHECK(sentence(test) ==
        "Block the nozzle one with a part on every other tip and read the gauge at the tee (expect about 61.0 kPa).");
  test.setting = {{}, 0.0, {solve::TipState::blocked, solve::TipState::open}};
  test.setting.off = {at("hose one"), at("hose two")};
  CHECK(sentence(test) ==
        "Take the hose one and the hose two off the tee and block the openings (2 joints) and read the gauge at the "
        "tee (expect "
        "about 61.0 kPa).");
}

TEST_CASE("what a reading would mean names one element, or whom it clears", "[report]") {
  hunt::Hunt read;
  read.prior_only = false;
  const line::Line line = tests::bench_line();
  const auto at = [&](const char* name) { return *line::find(line, name); };
  hunt::NextTest test;
  test.setting = {at("filter"), 0.0, {solve::TipState::part}};
  test.dials = {{hunt::Instrument::vacuum, at("tee"), 61.04e3}};
  const std::vector<std::size_t> before{at("pump"), at("hose")}, behind{at("joint")};
  test.information.outcomes = {{20e3, 30e3, at("pump"), 0.4, 0.2, 100.0, behind},
                               {31e3, 45e3, at("hose"), 0.3, 0.3, 100.0, behind},
                               {50e3, 60e3, at("joint"), 0.35, 0.3, 100.0, before},
                               {60e3, 70e3, at("nozzle"), 0.8, 0.2, 100.0, before}};
  CHECK(
      report::outcomes_sentence(line, read, test, {}) ==
      "Below 45.0 kPa: the joint is cleared. 50.0 kPa to 60.0 kPa: the pump and the hose are cleared. Above 60.0 kPa: "
      "the nozzle, 80 %; the pump and the hose are cleared.");
  test.dials.push_back({hunt::Instrument::current, at("pump"), 0.35});
  test.information.outcomes.resize(1);
  CHECK(report::outcomes_sentence(line, read, test, {}) ==
        "By the gauge at the tee alone: 20.0 kPa to 30.0 kPa: the joint is cleared.");
  read.prior_only = true;
  CHECK(report::outcomes_sentence(line, read, test, {}) ==
        "If a single fault is to blame, by the gauge at the tee alone: 20.0 kPa to 30.0 kPa: the joint is cleared.");
  test.information.outcomes.front().cleared.clear();
  CHECK(report::outcomes_sentence(line, read, test, {}) ==
        "Whatever it shows, no one element is likely yet; but it narrows the search.");
}

TEST_CASE("what a reading would mean is told in steps of the display", "[report]") {
  const hunt::Hunt read = [] {
    hunt::Hunt hunt;
    hunt.prior_only = false;
    return hunt;
  }();
  const line::Line line = tests::bench_line();
  const auto at = [&](const char* name) { return *line::find(line, name); };
  hunt::NextTest test;
  test.setting = {at("filter"), 0.0, {solve::TipState::part}};
  test.dials = {{hunt::Instrument::vacuum, at("tee"), 61.04e3, 1e3}};
  test.information.outcomes = {{20e3, 61.4e3, at("pump"), 0.8, 0.5, 100.0, {}},
                               {61.5e3, 63.8e3, at("hose"), 0.9, 0.3, 100.0, {}},
                               {64.1e3, 70e3, at("joint"), 0.95, 0.2, 100.0, {}}};
  const auto sentence = [&] { return report::outcomes_sentence(line, read, test, {}); };
  CHECK(sentence() ==
        "Below 62.0 kPa: the pump, 80 %. 62.0 kPa to 63.0 kPa: the hose, 90 %. Above 64.0 kPa: the joint, 95 %.");
  // A stretch that lies between two steps of the display is read as one of them.
  test.information.outcomes[1].low = 62.2e3;
  test.information.outcomes[1].high = 62.8e3;
  CHECK(sentence().find("About 62.0 kPa: the hose") != std::string::npos);
  test.information.outcomes[1].high = 63.3e3;
  CHECK(sentence().find("About 63.0 kPa: the hose") != std::string::npos);
}

TEST_CASE("a verdict says which elements no reading had on the line", "[report]") {
  const line::Line line = tests::bench_line();
  hunt::Hunt found;
  for (const char* name : {"joint", "pump", "hose", "tee", "filter", "nozzle"}) {
    hunt::Finding finding;
    finding.element = *line::find(line, name);
    finding.worst_probability = found.elements.empty() ? 0.97 : 0.006;
    finding.cost = found.elements.empty() ? hunt::Interval{7e3, 6e3, 8e3} : hunt::Interval{10.0, 0.0, 100.0};
    found.elements.push_back(finding);
  }
  found.prior_only = false;
  found.effective = 400.0;
  found.agreement = 1.0;
  found.quality.chance = 0.5;
  const auto verdict = [&] { return report::hunt_verdict(line, found, {}); };
  CHECK(
      verdict() ==
      "It is the joint: 97 % sure, and it costs the tip 7.0 kPa (6.0 kPa to 8.0 kPa). The file has the joint so: that "
      "is its design and no fault.");
  found.elements.back().only_prior = true;
  CHECK(verdict().ends_with(
      "No reading had the nozzle on the line, so what it costs is only by the file: read once more with it on."));
  found.elements[4].only_prior = true;
  CHECK(verdict().ends_with(
      "No reading had the filter and the nozzle on the line, so what each costs is only by the file: read once more "
      "with them on."));
  // What can cost nothing is no matter.
  found.elements[4].cost = {};
  CHECK(
      verdict().ends_with("No reading had the nozzle on the line, so what it costs is only by the file: read once "
                          "more with it on."));
}

TEST_CASE("what is nothing much is judged by the tip's own vacuum", "[report]") {
  const line::Line line = tests::bench_line();
  hunt::Hunt found;
  hunt::Finding finding;
  finding.element = *line::find(line, "joint");
  finding.worst_probability = 0.97;
  finding.cost = {0.8e3, 0.7e3, 0.9e3};
  found.elements.push_back(finding);
  found.prior_only = false;
  found.effective = 400.0;
  found.quality.chance = 0.5;
  found.tip_vacuum = 60e3;
  CHECK_THAT(report::hunt_verdict(line, found, {}), Catch::StartsWith("Nothing is much wrong: "));
  found.tip_vacuum = 3.2e3;  // a quarter of it
  CHECK_THAT(report::hunt_verdict(line, found, {}), Catch::StartsWith("It is the joint: 97 % sure, and it costs"));
}

TEST_CASE("a verdict says what is worse than the file has it", "[report]") {
  const line::Line line = tests::bench_line();
  hunt::Hunt found;
  for (const char* name : {"joint", "hose", "filter", "pump", "tee", "nozzle"}) {
    hunt::Finding finding;
    finding.element = *line::find(line, name);
    finding.worst_probability = found.elements.empty() ? 0.97 : 0.006;
    finding.cost = {7e3, 6e3, 8e3};
    found.elements.push_back(finding);
  }
  found.prior_only = false;
  found.effective = 400.0;
  found.agreement = 1.0;
  found.quality.chance = 0.5;
  const std::string it_is = "It is the joint: 97 % sure, and it costs the tip 7.0 kPa (6.0 kPa to 8.0 kPa).";
  const auto verdict = [&] { return report::hunt_verdict(line, found, {}); };
  found.elements[0].amiss = 0.3;
  CHECK(verdict() == it_is + " The file has the joint about so: rather its design than a fault.");
  CHECK(report::what_to_mend(line, found) ==
        "There is nothing to mend: the joint is as the file has it, and only another design gains what it costs.");
  found.elements[0].amiss = 0.7;
  CHECK(verdict() == it_is);
  CHECK(report::what_to_mend(line, found) == "Mend or replace the joint.");

  // What costs less may be the fault all the same.
  const double ml_min = 1.184e-6 / 60.0;
  found.elements[1].amiss = 0.99;
  found.elements[1].excess = {4.9e3, 4e3, 5e3};
  found.elements[1].leak = {840.0 * ml_min, 720.0 * ml_min, 1000.0 * ml_min};
  found.elements[1].filed_leak = 0.5 * ml_min;
  const std::string text = verdict();
  CHECK(text.starts_with(it_is + " Worse than the file has it: the hose, by 4.9 kPa (leaks 8"));
  CHECK(text.ends_with(" mL/min, where a sound one has about 0.5 mL/min)."));
  // What it draws at little vacuum tells a hole from a gap.
  hunt::Unknown share;
  share.what = hunt::What::hole_share;
  found.others = {{share, {0.9, 0.7, 0.99}}};
  CHECK_THAT(verdict(), Catch::Contains(" mL/min as an open hole does, where a sound one"));
  found.others = {{share, {0.1, 0.01, 0.3}}};
  CHECK_THAT(verdict(), Catch::Contains(" mL/min as a fine gap does, where"));
  found.others = {{share, {0.5, 0.05, 0.95}}};
  CHECK(verdict() == text);
  found.others.clear();
  // A way that is all but shut is told of whatever it costs beside the rest.
  found.elements[1].amiss = 0.5;
  found.elements[2].open_fraction = hunt::Interval{0.03, 0.02, 0.05};
  CHECK(verdict() == it_is + " Worse than the file has it: the filter (lets 3 % through).");
  found.elements[3].amiss = 0.97;
  found.elements[3].excess = {9.8e3, 9e3, 11e3};
  hunt::Unknown flow;
  flow.what = hunt::What::pump_flow;
  flow.element = found.elements[3].element;
  found.others.push_back({flow, {0.66, 0.55, 0.7}});
  CHECK(verdict() == it_is +
                         " Worse than the file has it: the pump, by 9.8 kPa (66 % of its curve's flow); the filter "
                         "(lets 3 % through).");
  found.elements[0].amiss = 0.01;
  CHECK(report::what_to_mend(line, found) ==
        "Mend or replace the pump and the filter. The joint costs more but is as the file has it: only another design "
        "gains that.");
  CHECK(report::wear_sentence(line, found) == "The pump has 66 % (55 to 70) of its curve's flow.");

  // Valves that let air back look like a leak at the port.
  found.elements[2].open_fraction.reset();
  found.elements[3].leak = {570.0 * ml_min, 500.0 * ml_min, 600.0 * ml_min};
  found.elements[3].filed_leak = 0.5 * ml_min;
  CHECK_THAT(verdict(), Catch::Contains("the pump, by 9.8 kPa (66 % of its curve's flow and leaks 5"));
  CHECK_THAT(verdict(), Catch::Contains(" mL/min at its port, or back through its valves, where a sound one"));
  CHECK(report::wear_sentence(line, found).ends_with("of its curve's flow, less what leaks in."));
  found.others.clear();
  found.elements[3].leak = {};
  found.elements[3].filed_leak = 0.0;
  CHECK_THAT(verdict(), Catch::Contains("(it leaks at its port, its valves let air back, or it is worn: the readings"));
}

TEST_CASE("what is surely at fault is said before who is the worst", "[report]") {
  const line::Line line = tests::bench_line();
  hunt::Hunt found;
  for (const char* name : {"joint", "hose", "filter", "pump", "tee", "nozzle"}) {
    hunt::Finding finding;
    finding.element = *line::find(line, name);
    finding.worst_probability = found.elements.empty() ? 0.86 : 0.02;
    finding.cost = {7e3, 6e3, 8e3};
    found.elements.push_back(finding);
  }
  found.prior_only = false;
  found.effective = 400.0;
  found.agreement = 1.0;
  found.quality.chance = 0.5;
  found.look_alikes = {{{found.elements[0].element, found.elements[2].element}, {}}};
  const auto verdict = [&] { return report::hunt_verdict(line, found, {}); };
  found.unsound = 0.9;
  CHECK_THAT(verdict(),
             Catch::StartsWith("These readings can't tell the joint and the filter apart; the likeliest is"));
  found.unsound = 0.0;
  found.elements[0].amiss = 0.99;
  found.elements[0].excess = {5e3, 4e3, 6e3};
  CHECK_THAT(verdict(), Catch::StartsWith("The joint is not as it should be, and it costs the tip 7.0 kPa (6.0 kPa to "
                                          "8.0 kPa). Whether it is the worst is not yet sure (86 %): it may be the "
                                          "filter. Worse than the file has it: the joint, by 5.0 kPa"));
  found.look_alikes.clear();
  CHECK_THAT(verdict(), Catch::Contains("Whether it is the worst is not yet sure (86 %). Worse"));
}

TEST_CASE("a hose that passes what a narrower one would is told of, with its bore", "[report]") {
  const line::Line line = tests::bench_line();
  hunt::Hunt found;
  found.prior_only = false;
  found.effective = 400.0;
  found.elements.resize(line.elements.size());
  for (std::size_t i = 0; i < line.elements.size(); ++i) found.elements[i].element = i;
  const std::size_t hose = *line::find(line, "hose");
  found.elements[hose].bore = hunt::Interval{1.52e-3, 1.41e-3, 1.66e-3};
  CHECK(report::bore_sentence(line, found) ==
        "The hose passes what a bore of 1.5 mm (1.4 to 1.7) would, and the file has 4.0 mm: see which it has, and "
        "whether "
        "it is pinched or lined with dirt.");
  std::swap(found.elements[hose], found.elements.front());
  found.rivals = {*line::find(line, "joint")};
  CHECK_THAT(report::bore_sentence(line, found),
             Catch::StartsWith("If it is the hose, that passes what a bore of 1.5"));
  found.rivals.clear();
  std::swap(found.elements[hose], found.elements.front());
  found.elements[hose].bore->high = 3.9e-3;  // or it is blocked in one place
  CHECK(report::bore_sentence(line, found).empty());
  found.elements[hose].bore->high = 1.66e-3;
  found.quality.bad = true;
  CHECK(report::bore_sentence(line, found).empty());
}

TEST_CASE("of what is alike none is the likeliest, and what is off is not as it should be", "[report]") {
  const line::Line line = tests::bench_line();
  hunt::Hunt found;
  std::vector<std::size_t> alike;
  for (const char* name : {"hose", "tee", "filter", "joint"}) {
    hunt::Finding finding;
    finding.element = *line::find(line, name);
    finding.worst_probability = found.elements.size() < 3 ? 0.2 : 0.4;
    finding.cost = {7e3, 6e3, 8e3};
    if (found.elements.size() < 3) alike.push_back(finding.element);
    found.elements.push_back(finding);
  }
  found.alike = {alike};
  found.prior_only = false;
  found.effective = 400.0;
  found.quality.chance = 0.5;
  found.tip_vacuum = 60e3;
  found.look_alikes.push_back({{alike[0], alike[1], alike[2], found.elements[3].element}, {}});
  // Nothing is surely wrong: all is well, unless the readings have made that much less likely.
  CHECK_THAT(report::hunt_verdict(line, found, {}),
             Catch::StartsWith("What was read is as it should be, by and large"));
  found.unsound = 0.93;
  const std::string off = report::hunt_verdict(line, found, {});
  CHECK_THAT(off, Catch::Contains("; the likeliest is one of the hose and the 2 like it with 60 %."));
  CHECK_THAT(off,
             Catch::EndsWith("Something is worse than the file has it (93 %), and the readings don't tell yet what."));
}

TEST_CASE("what may be worse than filed is told no more firmly than it is known", "[report]") {
  const line::Line line = tests::bench_line();
  const auto at = [&](const char* name) { return *line::find(line, name); };
  const double ml_min = 1.184e-6 / 60.0;
  hunt::Hunt found;
  for (const char* name : {"joint", "hose", "pump"}) {
    hunt::Finding finding;
    finding.element = at(name);
    finding.worst_probability = found.elements.empty() ? 0.97 : 0.01;
    finding.cost = {7e3, 6e3, 8e3};
    found.elements.push_back(finding);
  }
  found.prior_only = false;
  found.effective = 400.0;
  found.quality.chance = 0.5;
  found.tip_vacuum = 60e3;
  const std::string it_is = "It is the joint: 97 % sure, and it costs the tip 7.0 kPa (6.0 kPa to 8.0 kPa).";
  const auto said = [&] { return report::hunt_verdict(line, found, {}).substr(it_is.size()); };

  // One of a few, and no one knows which.
  found.amiss_among = {at("pump"), at("hose")};
  found.among_excess = {5.3e3, 4e3, 6e3};
  CHECK(said() ==
        " The file has the joint so: that is its design and no fault. One of these is worse than the file has "
        "it, by 5.3 kPa, and the readings don't tell which: the pump and the hose.");
  CHECK(
      report::what_to_mend(line, found) ==
      "One of these is not as the file has it, the likeliest first: the pump and the hose. Put a good one in the place "
      "of one after the other, and see what the tip gains. The joint costs more but is as the file has it: only "
      "another design gains that.");
  // Of one alone there is no list, and no pump passes anything.
  found.amiss_among = {at("pump")};
  CHECK_THAT(said(), Catch::EndsWith(" The pump is worse than the file has it, by 5.3 kPa."));
  found.among_shut = 1.0;
  CHECK_THAT(said(), Catch::EndsWith(" The pump gives less than half of the flow the file has, by 5.3 kPa."));
  CHECK_THAT(report::what_to_mend(line, found),
             Catch::StartsWith("The pump is not as the file has it: put a good one in its place, and see what the tip "
                               "gains. The joint costs more"));
  found.among_shut = 0.0;
  found.amiss_among.clear();

  // Far from the file, and yet it costs too little to be told of otherwise: no design, and not passed over.
  found.elements[0].leak = {245.0 * ml_min, 200.0 * ml_min, 300.0 * ml_min};
  found.elements[0].filed_leak = 2.0 * ml_min;
  CHECK_THAT(said(), Catch::StartsWith(" Not as the file has it, though it costs the tip little: the joint (leaks 24"));
  CHECK(report::what_to_mend(line, found) == "Mend or replace the joint.");

  // Of a range the most is what it is compared with, at another vacuum than the file may have it.
  line::Line ranged = line;
  ranged.elements[at("joint")].leaks = {line::RatedLeak{units::Quantity::uniform(0.1 * ml_min, 2.0 * ml_min), 50e3}};
  CHECK_THAT(report::hunt_verdict(ranged, found, {}),
             Catch::EndsWith(" mL/min at 60 kPa, where the file has 2.0 mL/min at most)."));
  ranged.elements[at("joint")].leaks = {line::RatedLeak{2.0 * ml_min, 60e3}};
  CHECK_THAT(report::hunt_verdict(ranged, found, {}),
             Catch::EndsWith(" mL/min, where the file has 2.0 mL/min).") && !Catch::Contains(" at 60"));

  // Worse than filed, or another is.
  found.elements[0].amiss = 1.0;
  found.elements[0].excess = {6.9e3, 6e3, 8e3};
  found.elements[0].instead = at("pump");
  CHECK_THAT(said(), Catch::EndsWith("where the file has 2.0 mL/min), or in its place the pump: the readings allow "
                                     "both."));
  CHECK(report::what_to_mend(line, found) == "Mend or replace the joint, or see first that it is not the pump.");

  // No flat statement where rivals stand, on readings that nothing explains, or on too few samples.
  found.rivals = {at("hose")};
  CHECK(report::hunt_verdict(line, found, {}).find("Worse than") == std::string::npos);
  found.rivals.clear();
  found.quality.bad = true;
  CHECK(report::hunt_verdict(line, found, {}).find("Worse than") == std::string::npos);
  found.quality.bad = false;
  found.effective = 7.0;
  CHECK(report::hunt_verdict(line, found, {}) == "Too few samples agree for a ranking.");
  found.effective = 400.0;

  // A pump beyond its curve, a gauge beyond its accuracy.
  found.elements[1].amiss = 1.0;
  CHECK(said().find("the hose") != std::string::npos);
  hunt::Unknown flow;
  flow.what = hunt::What::pump_flow;
  flow.element = at("pump");
  found.others.push_back({flow, {2.14, 2.0, 2.3}});
  CHECK(said().find("the hose") == std::string::npos);
  CHECK_THAT(report::doubts_sentence(line, found),
             Catch::StartsWith("The pump can't pump that much more than its curve."));
  hunt::Unknown zero;
  zero.what = hunt::What::offset;
  zero.element = at("tee");
  zero.prior.shape = hunt::Prior::Shape::normal;
  zero.prior.middle = 0.0;
  zero.prior.spread = 250.0;
  found.others = {{zero, {-1301.0, -1500.0, -1100.0}}};
  CHECK(
      report::doubts_sentence(line, found) ==
      "The gauge at the tee seems to read 1.3 kPa too little, beyond its accuracy of 0.5 kPa: see that it shows 0 with "
      "its port open.");
}

TEST_CASE("stretches that hardly speak for one more than for another are told as one", "[report]") {
  hunt::Hunt read;
  read.prior_only = false;
  const line::Line line = tests::bench_line();
  const auto at = [&](const char* name) { return *line::find(line, name); };
  hunt::NextTest test;
  test.setting = {at("filter"), 0.0, {solve::TipState::part}};
  test.dials = {{hunt::Instrument::plugged, at("filter"), 61e3}};
  CHECK(report::test_sentence(line, test, {}) ==
        "Cap the line behind the filter and read the gauge in the plug (expect about 61.0 kPa).");
  test.information.outcomes = {{50e3, 61e3, at("pump"), 0.9, 0.4, 100.0, {at("joint")}},
                               {61e3, 64e3, at("joint"), 0.6, 0.2, 100.0, {at("pump")}},
                               {64e3, 66e3, at("nozzle"), 0.55, 0.2, 100.0, {at("pump")}},
                               {66e3, 70e3, at("joint"), 0.7, 0.2, 100.0, {at("pump")}}};
  CHECK(report::outcomes_sentence(line, read, test, {}) ==
        "Below 61.0 kPa: the pump, 90 %; the joint is cleared. Above 61.0 kPa: the joint or the nozzle; the pump is "
        "cleared.");
  // Where it speaks for no one to begin with, what follows can't change that.
  test.information.outcomes[1].probability = 0.41;
  test.information.outcomes[2].element = at("joint");
  CHECK(report::outcomes_sentence(line, read, test, {}) ==
        "Below 61.0 kPa: the pump, 90 %; the joint is cleared. Above 61.0 kPa: the pump is cleared.");
  test.information.outcomes[1].probability = 0.6;
  test.information.outcomes[2].element = at("nozzle");
  // A third makes it no one's; so does one that is less likely than not.
  test.information.outcomes[3].element = at("hose");
  CHECK(report::outcomes_sentence(line, read, test, {}) ==
        "Below 61.0 kPa: the pump, 90 %; the joint is cleared. Above 61.0 kPa: the pump is cleared.");
}

TEST_CASE("where no test tells more, a loose gauge or the part itself is what is left", "[report]") {
  const line::Line line = tests::bench_line();
  hunt::Hunt found;
  found.elements.resize(2);
  CHECK_THAT(report::dead_end(line, found, {}),
             Catch::StartsWith("There is no test left: nothing that could be read is to be had.") &&
                 Catch::Contains("--plug-gauge"));
  found.next.resize(1);
  CHECK(report::dead_end(line, found, {}) == "No further test on this line would tell much more.");
  found.next.clear();
  found.prior_only = false;
  found.elements[0].element = *line::find(line, "filter");
  found.elements[0].worst_probability = found.elements[1].worst_probability = 0.5;
  CHECK(
      report::dead_end(line, found, {}) ==
      "No further test on this line would tell much more, and what was read is as the file has it, by and large: there "
      "is nothing to mend yet.");
  found.elements[0].amiss = found.elements[1].amiss = 0.4;
  const std::string out =
      "No further test on this line would tell much more. Take the filter out, or put a good one in its place, and see "
      "what the tip gains.";
  CHECK(report::dead_end(line, found, {}) ==
        out +
            " Or tell leaks from wear and narrow ways without the pump: block the tip, clamp the line off right "
            "behind it, log how the vacuum at the tee goes (airtally decay), and give this hunt the log.");
  // There is a log already, or no gauge that stays with what is shut off.
  found.readings.resize(1);
  found.readings[0].reading.instrument = hunt::Instrument::inflow;
  CHECK(report::dead_end(line, found, {}) == out);
  found.readings.clear();
  line::Line blind = line;
  for (line::Element& element : blind.elements) element.gauge.reset();
  CHECK(report::dead_end(blind, found, {}) == out);
  hunt::NextTest test;
  test.setting = {*line::find(line, "hose"), 0.0, {solve::TipState::part}};
  test.dials = {{hunt::Instrument::plugged, *line::find(line, "hose"), 61e3}};
  test.effort = 1.0;
  found.with_plug_gauge = test;
  CHECK(report::dead_end(line, found, {}) ==
        "No further test with the instruments of this line would tell much more. A loose gauge in the plug would: Cap "
        "the line behind the hose (1 joint) and read the gauge in the plug (expect about 61.0 kPa).");
}

TEST_CASE("a page says why the figures of its readings are rough", "[report]") {
  hunt::Hunt hunt;
  hunt.samples = 256;
  hunt.effective = 13.2;
  hunt.r_hat = 3221.3;
  CHECK(report::page::rough_samples(hunt) ==
        "Take the figures of the readings as rough: of 256 samples only 13 count and they do not agree (R-hat 3221). "
        "Another --seed of airtally hunt may say otherwise.");
  hunt.effective = 200.0;
  hunt.r_hat = 1.5;
  CHECK(report::page::rough_samples(hunt).find("rough: they do not agree (R-hat 1.50). ") != std::string::npos);
}
