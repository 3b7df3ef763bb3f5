#include "report/text.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "report/describe.hpp"
#include "report/json.hpp"
#include "report/trial.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "sample.hpp"
#include "units/parse.hpp"

using namespace airtally;
using namespace airtally::report;
using Catch::Contains;

namespace {

const std::vector<solve::TipState> part_on{solve::TipState::part};

std::vector<std::string> all_texts(const line::Line& line, const Look& look) {
  return {check_text(line, {{1, "something to say about it."}}, look),
          steady_text(line, sample::steady(), look),
          rise_text(line, part_on, sample::rise(), look),
          rank_text(line, sample::rank(), look),
          strip_text(line, sample::strip(), look),
          sheet_text(line, sample::strip(), look)};
}

/// The text with every run of white space as one space, so that folding does not matter.
std::string flat(const std::string& text) {
  std::istringstream in(text);
  std::string out;
  for (std::string word; in >> word;) out += (out.empty() ? "" : " ") + word;
  return out;
}

}  // namespace

TEST_CASE("every text fits 80 columns, also with long and foreign names", "[report][property]") {
  const std::string names[] = {"hose", std::string(120, 'w'),
                               "真空真空真空真空真空真空真空真空真空真空真空真空真空真空真空真空真空真空真空",
                               "Schlauch für die linke Düse, hinter dem Verteiler, zweite Bank"};
  for (const std::string& name : names)
    for (const bool ascii : {false, true}) {
      Look look;
      look.style.ascii = ascii;
      for (const std::string& text : all_texts(sample::line(name), look)) {
        CHECK(text.back() == '\n');
        std::istringstream in(text);
        for (std::string line; std::getline(in, line);) {
          CAPTURE(line);
          CHECK(width(line) <= 80);
        }
      }
    }
}

TEST_CASE("with --ascii a line with plain names prints nothing else", "[report][property]") {
  Look look;
  look.style.ascii = true;
  for (const std::string& text : all_texts(sample::line(), look))
    for (const char c : text) CHECK((c == '\n' || (c >= ' ' && c <= '~')));
}

TEST_CASE("only a terminal gets colour, and paper never does", "[report][property]") {
  for (const std::string& text : all_texts(sample::line(), {})) CHECK(text.find('\x1b') == std::string::npos);
  Look look;
  look.style.colour = true;
  CHECK(rank_text(sample::line(), sample::rank(), look).find('\x1b') != std::string::npos);
  CHECK(sheet_text(sample::line(), sample::strip(), look).find('\x1b') == std::string::npos);
}

TEST_CASE("each text opens with its verdict", "[report][property]") {
  const line::Line line = sample::line();
  CHECK_THAT(
      flat(steady_text(line, sample::steady(), {})),
      Contains("With the part on, the tip gets 41.3 kPa. The pump pulls 50.0 kPa, and 8.7 kPa of that is lost on "
               "the way to the tip."));
  CHECK_THAT(flat(rise_text(line, part_on, sample::rise(), {})),
             Contains("With the part on, the tip settles in 42.1 ms at 41.3 kPa"));
  CHECK_THAT(
      flat(rank_text(line, sample::rank(), {})),
      Contains("The hose costs the tip 18.4 of the 28.7 kPa it lacks. Sealing its leak alone would win 15.2 kPa."));
  CHECK_THAT(
      flat(check_text(line, {}, {})),
      Contains("A sound line: 4 elements with 1 source of vacuum, 1 nozzle, 1 gauge and 1 leak. 1 value was assumed, "
               "and nothing calls for a warning."));
}

TEST_CASE("the unit of vacuum is the one asked for, everywhere", "[report][property]") {
  Look look;
  look.vacuum = units::find_unit("inHg", units::Dimension::pressure);
  const line::Line line = sample::line();
  // 28675.1 Pa are 8.468 inHg of 3386.38 Pa.
  CHECK_THAT(flat(rank_text(line, sample::rank(), look)), Contains("of the 8.47 inHg it lacks"));
  for (const std::string& text :
       {steady_text(line, sample::steady(), look), rise_text(line, part_on, sample::rise(), look),
        rank_text(line, sample::rank(), look), strip_text(line, sample::strip(), look)}) {
    CHECK_THAT(text, Contains("inHg"));
    CHECK_THAT(text, !Contains("kPa"));
  }
}

TEST_CASE("a valve that is shut is why the tip has nothing, and the pump's vacuum is told", "[report]") {
  line::Line line = sample::line();
  line.elements[2].valve.emplace();
  line.elements[2].valve->state = line::ValveState::closed;
  study::Ranking ranking = sample::rank();
  ranking.tip_vacuum = ranking.ideal_vacuum = ranking.total_loss = 0.0;
  ranking.source_vacuum = 68.1e3;
  ranking.shut = 2;
  const std::string text = rank_verdict(line, ranking, {});
  CHECK_THAT(text, Catch::StartsWith("The tee is closed, so the tip has none of the 68.1 kPa that the pump has"));
  CHECK_THAT(text, Contains("--set \"tee.state=open\"") && !Contains("Nothing on the way"));
}

TEST_CASE("an element that costs more than the line lacks is not given a part of it", "[report][property]") {
  study::Ranking ranking = sample::rank();
  ranking.elements[0].fair_share = 30e3;
  ranking.elements[1].fair_share = ranking.total_loss - 30e3;
  const std::string text = flat(rank_text(sample::line(), ranking, {}));
  CHECK_THAT(text, Contains("The hose costs the tip 30.0 kPa; elements that keep out"));
  CHECK_THAT(text, !Contains("30.0 of the"));
  // What is too much by less than print shows is all of it.
  ranking.elements[0].fair_share = ranking.total_loss + 0.01;
  ranking.elements[1].fair_share = -0.01;
  CHECK_THAT(flat(rank_text(sample::line(), ranking, {})),
             Contains(" it lacks.") && !Contains("elements that keep out"));
}

TEST_CASE("the bench sheet has the cautions and a blank for every reading", "[report][property]") {
  const std::string text = flat(sheet_text(sample::line(), sample::strip(), {}));
  for (const char* caution : {"locked out", "skin or an eye", "never a thumb", "may be hot", "licensed", "local code",
                              "Ambient pressure", "Supply voltage"})
    CHECK_THAT(text, Contains(caution));
  // Gauge 2 of 4 steps, ammeter all 4.
  std::size_t blanks = 0;
  for (std::size_t at = text.find("mA __________"); at != std::string::npos; at = text.find("mA __________", at + 1))
    ++blanks;
  CHECK(blanks == 4);
  CHECK_THAT(text, Contains("tee 54.0 kPa __________"));
}

TEST_CASE("the bench sheet says where the gauge goes and what closes each end", "[report][property]") {
  const std::string text = flat(sheet_text(sample::line(), sample::strip(), {}));
  for (const char* said : {"pump (cap its inlet)", "hose (plug, 4 mm)", "tee (cap its port)",
                           "nozzle (block its mouth)", "by a tool and not by a finger",
                           "The gauge at the tee stays where it is, and reads from step 3 on: before that it is off"})
    CHECK_THAT(text, Contains(said));
  // A line whose file has no instrument: the gauge that the predictions assume is asked for, at its place.
  study::Strip strip = sample::strip();
  for (study::StripStep& step : strip.steps) {
    std::erase_if(step.readings, [](const auto& r) { return r.at == 2; });
    for (study::StripReading& r : step.readings) r.current.reset();
  }
  strip.judge = 0;
  strip.assumed_gauge = true;
  line::Line bare = sample::line();
  bare.elements[2].gauge.reset();
  bare.elements[0].pump->current.clear();
  CHECK_THAT(flat(sheet_text(bare, strip, {})),
             Contains("The line file has no gauge. Tee one in at the inlet of the pump,") &&
                 Contains("pump (cap its inlet) gauge at pump"));
}

TEST_CASE("a line that forks has its branches in the table and on the sheet", "[report][property]") {
  study::Strip strip = sample::strip();
  strip.tips = {solve::TipState::blocked, solve::TipState::blocked};
  strip.whole = {{2, 54e3, std::nullopt}, {0, 54e3, 0.35}};
  strip.branches = {{1, {{2, 61.5e3, std::nullopt}, {0, 61.5e3, 0.37}}, 7.5e3}};
  CHECK_THAT(flat(strip_text(sample::line(), strip, {})),
             Contains("one branch off at a time, the opening that it leaves blocked, the line else whole with all tips "
                      "blocked. branch off tee change kPa kPa") &&
                 Contains("none 54.0 - hose 61.5 +7.5"));
  const std::string sheet = flat(sheet_text(sample::line(), strip, {}));
  CHECK_THAT(sheet, Contains("BRANCHES Where the line forks") &&
                        Contains("nothing, the line whole tee 54.0 kPa __________") &&
                        Contains("hose and all beyond tee 61.5 kPa __________"));
  strip.by_current = true;
  strip.judge = 0;
  CHECK_THAT(flat(strip_text(sample::line(), strip, {})),
             Contains("branch off ammeter change mA mA") && Contains("none 350.0 - hose 370.0 +20.0"));
  CHECK_THAT(flat(sheet_text(sample::line(), sample::strip(), {})), !Contains("BRANCHES"));
}

TEST_CASE("where a step leaves no instrument on the line, a loose gauge in the plug reads", "[report][property]") {
  study::Strip strip = sample::strip();
  for (study::StripStep& step : strip.steps) {
    for (auto* readings : {&step.readings, &step.without})
      for (study::StripReading& r : *readings) r.current.reset();  // no ammeter: two steps are blind
    step.end = 60e3 + 100.0 * static_cast<double>(step.cap);
  }
  const std::string table = flat(strip_text(sample::line(), strip, {}));
  CHECK_THAT(table, Contains("tee in the plug change") && Contains("1 pump off 60.0") && Contains("4 nozzle") &&
                        Contains("a loose gauge in what blocks the end"));
  const std::string sheet = flat(sheet_text(sample::line(), strip, {}));
  CHECK_THAT(sheet, Contains("Loose gauge, open to the room __________") &&
                        Contains("loose gauge 60.1 kPa __________") &&
                        Contains("The loose gauge goes into what blocks the end, through a tight fitting"));
  // With a branch off, or none, nothing is capped that it could be in.
  strip.whole = {{2, 54e3, std::nullopt}, {0, 54e3, std::nullopt}};
  strip.branches = {{1, {{2, 61.5e3, std::nullopt}, {0, 61.5e3, std::nullopt}}, 7.5e3}};
  const std::string forked = flat(sheet_text(sample::line(), strip, {}));
  CHECK_THAT(forked.substr(forked.find("BRANCHES")),
             Contains("the line whole tee 54.0 kPa") && !Contains("loose gauge"));
  // None is asked for where there is another.
  CHECK_THAT(flat(strip_text(sample::line(), sample::strip(), {})), !Contains("plug "));
}

TEST_CASE("the bench sheet asks of an ejector what it asks of no pump", "[report][property]") {
  const auto sheet = [](const line::Line& line) { return flat(sheet_text(line, sample::strip(), {})); };
  line::Line line = sample::line();
  CHECK_THAT(sheet(line), !Contains("ejector") &&
                              Contains("the pump is worn, its supply voltage is low, the gauge is out, or the ammeter "
                                       "is out: stop"));
  // One of each: both are asked for.
  line::Element ejector = line.elements[0];
  ejector.name = "jet";
  ejector.kind = line::Kind::ejector;
  ejector.pump->supply = 450e3;
  ejector.pump->current.clear();
  line.elements.push_back(ejector);
  const std::string supply = "Supply pressure at jet, running (file: 450 kPa) __________ kPa";
  for (const char* said : {"Supply voltage at the pump", "may be hot", "its supply voltage is low", supply.c_str(),
                           "compressed air on", "exhaust is loud", "its supply pressure is low"})
    CHECK_THAT(sheet(line), Contains(said));
  line.elements.back().name = "a name that is far too long for its column";
  std::istringstream lines(sheet_text(line, sample::strip(), {}));
  for (std::string one; std::getline(lines, one);) CHECK(width(one) <= 80);
  line.elements[0] = ejector;
  line.elements.pop_back();
  line.elements[2].gauge.reset();
  CHECK_THAT(sheet(line), Contains("exhaust is loud") && Contains(supply) && !Contains("may be hot") &&
                              !Contains("Supply voltage") && !Contains("the pump is worn"));
  // No gauge that could be out where only the ammeter is read.
  line::Line metered = sample::line();
  metered.elements[2].gauge.reset();
  study::Strip strip = sample::strip();
  for (study::StripStep& step : strip.steps) std::erase_if(step.readings, [](const auto& r) { return r.at == 2; });
  strip.by_current = true;
  strip.judge = 0;
  CHECK_THAT(flat(sheet_text(metered, strip, {})),
             Contains("is low, or the ammeter is out: stop") && !Contains("the gauge is out"));
}

TEST_CASE("a removal test without a culprit says that nothing shows", "[report][property]") {
  study::Strip strip = sample::strip();
  strip.culprit.reset();
  CHECK_THAT(
      flat(strip_text(sample::line(), strip, {})),
      Contains("no element's step is big enough for the gauge at the tee to show: in steps of 0.1 kPa it tells two "
               "readings apart from 0.245 kPa on. The biggest, of the hose, is 15.0 kPa. By the file nothing "
               "leaks.") &&
          Contains("airtally hunt --bench "));
  strip.steps[1].leak = 1.2e-5;
  CHECK_THAT(flat(strip_text(sample::line(), strip, {})), Contains("By the file the hose leaks most, "));
  // A branch may show where no step does.
  strip.branches = {{1, {{2, 55e3, std::nullopt}}, 0.2e3}};
  strip.whole = {{2, 54.8e3, std::nullopt}};
  CHECK_THAT(flat(strip_text(sample::line(), strip, {})), !Contains("which shows"));
  strip.branches[0].change = 0.3e3;
  CHECK_THAT(flat(strip_text(sample::line(), strip, {})),
             Contains("But without the branch that begins with the hose it would rise by 0.30 kPa, which shows."));
  strip.branches.clear();
  const std::string sheet = flat(sheet_text(sample::line(), strip, {}));
  CHECK_THAT(sheet, Contains("THIS TEST WILL TELL LITTLE HERE. By prediction no element's step is big enough"));
  CHECK_THAT(flat(sheet_text(sample::line(), sample::strip(), {})), !Contains("TELL LITTLE"));
  line::Line metered = sample::line();
  metered.elements[2].gauge.reset();
  strip.by_current = true;
  strip.judge = 0;
  metered.elements[0].pump->current = {{0.0, 0.12}, {35e3, 0.18}};
  CHECK_THAT(flat(strip_text(metered, strip, {})),
             Contains("for the ammeter of the pump to show: in steps of 0.4 mA it tells"));
}

TEST_CASE("a bench sheet predicts no finer than the gauge shows", "[report][property]") {
  line::Line line = sample::line();
  const auto shown = [&](double resolution, const char* unit) {
    line.elements[2].gauge->resolution = resolution;
    Look look;
    look.vacuum = units::find_unit(unit, units::Dimension::pressure);
    study::Strip strip = sample::strip();
    for (study::StripStep& step : strip.steps)
      for (study::StripReading& r : step.readings) r.vacuum = 61234.0;
    return flat(sheet_text(line, strip, look));
  };
  CHECK_THAT(shown(100.0, "kPa"), Contains("tee 61.2 kPa"));
  CHECK_THAT(shown(1000.0, "kPa"), Contains("tee 61 kPa"));
  CHECK_THAT(shown(677.3, "inHg"), Contains("tee 18.1 inHg"));  // in steps of 0.2 inHg
  CHECK_THAT(shown(3386.4, "inHg"), Contains("tee 18 inHg"));
}

TEST_CASE("rank sends a restriction to a test that shows one", "[report][property]") {
  study::Ranking ranking = sample::rank();
  auto& worst = *std::max_element(ranking.elements.begin(), ranking.elements.end(),
                                  [](const auto& a, const auto& b) { return a.fair_share < b.fair_share; });
  worst.leak_gain = 5e3;
  worst.restriction_gain = 1e3;
  CHECK_THAT(flat(rank_text(sample::line(), ranking, {})),
             Contains("This prints the gauge reading to expect behind every joint") && Contains("--sheet"));
  line::Line bare = sample::line();
  bare.elements[2].gauge.reset();
  CHECK_THAT(flat(rank_text(bare, ranking, {})), Contains("This prints the ammeter's reading to expect"));
  bare.elements[0].pump->current.clear();
  CHECK_THAT(flat(rank_text(bare, ranking, {})), Contains("This prints the vacuum to expect"));
  worst.restriction_gain = 9e3;
  CHECK_THAT(flat(rank_text(sample::line(), ranking, {})),
             Contains("no restriction shows: read with the tip open, or a drilled plate at the end.") &&
                 Contains("airtally hunt --bench ") && !Contains("--sheet"));
}

TEST_CASE("rank sends to no removal test in which no step shows", "[report][property]") {
  CHECK_THAT(flat(rank_text(sample::line(), sample::rank(), {})), Contains("--sheet"));
  CHECK_THAT(flat(rank_text(sample::line(), sample::rank(), {}, false)),
             Contains("no step of this line is big enough for its instruments") &&
                 Contains("airtally hunt --bench sample.toml") && !Contains("--sheet"));
}

TEST_CASE("rank says first what no repair of the line brings", "[report][property]") {
  study::Ranking ranking = sample::rank();
  ranking.needed_vacuum = ranking.least_vacuum = 30e3;
  CHECK_THAT(rank_verdict(sample::line(), ranking, {}), Catch::StartsWith("The hose costs"));
  ranking.at_parts = study::AtParts{2e-5, 3e-5, 69e3, false};
  const std::string parts = rank_verdict(sample::line(), ranking, {});
  CHECK_THAT(parts, Catch::StartsWith("Most of the air, ") &&
                        Contains("comes in under the part, and no element costs "
                                 "as much: if it sealed, the tip would have "
                                 "69.0 kPa.") &&
                        Contains("The hose costs the tip 18.4 of the 28.7 kPa that it loses on the way."));
  // Air between rim and part is told from air through the part, in words and below the table.
  ranking.under_parts = 1.2e-5;
  ranking.through_parts = 0.8e-5;
  CHECK_THAT(
      rank_verdict(sample::line(), ranking, {}),
      Contains("comes in at the part (0.61 L/min between rim and part, 0.41 L/min through the part itself), and"));
  CHECK_THAT(rank_text(sample::line(), ranking, {}), Contains("\nunder the part") && Contains("\nthrough the part"));
  ranking.through_parts = 0.0;
  CHECK_THAT(rank_verdict(sample::line(), ranking, {}), Contains("comes in under the part, and"));
  CHECK_THAT(rank_text(sample::line(), ranking, {}), Contains("\nunder the part") && !Contains("through the part"));
  ranking.under_parts = 0.0;
  CHECK_THAT(rank_text(sample::line(), ranking, {}), !Contains("under the part "));
  // It is told once, and not again below the table.
  CHECK_THAT(rank_text(sample::line(), ranking, {}), !Contains("Note:"));
  CHECK_THAT(rank_json(sample::line(), ranking), Contains("Most of the air"));
  ranking.at_parts.reset();
  ranking.needed_vacuum = 74.8e3;
  for (const auto objective : {study::Objective::tip_vacuum, study::Objective::hold}) {
    ranking.objective = objective;
    CHECK_THAT(rank_verdict(sample::line(), ranking, {}),
               Contains("Even with no leak and no restriction the tip would have 70.0 kPa, 4.8 kPa less than the "
                        "74.8 kPa that the part needs: no repair of the line is enough."));
  }
}

TEST_CASE("where far more is there than the part needs, no loss explains a drop", "[report][property]") {
  study::Ranking ranking = sample::rank();
  ranking.needed_vacuum = 6.2e3;
  ranking.least_vacuum = 41324.9;
  CHECK_THAT(
      rank_verdict(sample::line(), ranking, {}),
      Contains("The part needs 6.2 kPa, and the tip has 6.6 times that: once the vacuum stands, no loss on the way "
               "explains a part that drops."));
  ranking.objective = study::Objective::hold;
  CHECK_THAT(rank_verdict(sample::line(), ranking, {}), Contains("It has 6.6 times what the part needs: once"));
  ranking.needed_vacuum = 41324.9 / 3.99;  // rounded down, as it has at least that
  CHECK_THAT(rank_verdict(sample::line(), ranking, {}), Contains("It has 3.9 times what the part needs"));
  ranking.needed_vacuum = 41324.9 / 26.97;
  CHECK_THAT(rank_verdict(sample::line(), ranking, {}), Contains("It has 26 times what the part needs"));
  ranking.needed_vacuum = 20e3;
  CHECK_THAT(rank_verdict(sample::line(), ranking, {}), !Contains("times"));
}

TEST_CASE("what is worth a try follows from the verdict", "[report][property]") {
  line::Line line = sample::line();
  line.part->gap = 10e-6;
  study::Ranking ranking = sample::rank();
  CHECK(trial(line, ranking).change == trial_change(line, ranking));
  CHECK(trial(line, ranking).why.empty());
  std::swap(ranking.elements[0].fair_share, ranking.elements[1].fair_share);
  CHECK(trial(line, ranking).change == trial_change(line, ranking));
  CHECK_THAT(trial(line, ranking).why, Contains("wider bore of the nozzle may seal its part worse"));
  ranking.at_parts = study::AtParts{2e-5, 3e-5, 69e3, false};
  CHECK(trial(line, ranking).change == "part.gap=5.0 um");
  ranking.needed_vacuum = 74.8e3;
  ranking.least_vacuum = 40e3;
  CHECK(trial(line, ranking).change == "nozzle.bore=1.5 mm");
  CHECK(trial(line, ranking).command == "hold");
  line.elements[3].rim = 1.4e-3;  // too narrow for that bore
  CHECK_THAT(trial(line, ranking).change, !Contains("bore"));
}

TEST_CASE("the short cautions are those of the line's own sources", "[report][property]") {
  line::Line line = sample::line();
  CHECK(bench_cautions(line) ==
        "Before you reach in: lock out the moving axes and let the pump cool; use a plug, not a thumb. Wire an ammeter "
        "in with the supply off, and never into mains.");
  line.elements[1].kind = line::Kind::valve;
  line.elements[1].valve.emplace();
  line.elements[1].valve->vent.emplace();
  line.elements[1].valve->vent->blow_off = 30e3;
  CHECK_THAT(bench_cautions(line), Contains("shut off blow-off air"));
  line.elements[0].kind = line::Kind::ejector;
  CHECK_THAT(bench_cautions(line), Contains("ejector's compressed air and let its pressure out") && !Contains("pump"));
  for (const std::string& text : {rank_text(line, sample::rank(), {}), strip_text(line, sample::strip(), {})})
    CHECK_THAT(flat(text), Contains(bench_cautions(line)));
  line.elements[0].pump->current.clear();  // nothing to read by
  CHECK_THAT(bench_cautions(line), !Contains("ammeter"));
}

TEST_CASE("where the drop is cracking pressure, that is what is worth a try", "[report][property]") {
  line::Line line = sample::line();
  line.elements[1].kind = line::Kind::check_valve;
  line.elements[1].leaks.clear();
  line.elements[1].restriction = line::Iso{6e-9, 0.3};
  line.elements[1].cracking = 500.0;
  study::Ranking ranking = sample::rank();
  ranking.elements = {{1, 0.0, 0.0, 0.0, 510.0, 510.0, 0.0, 0.001, 0.002}};
  CHECK(trial_change(line, ranking) == "hose.cracking=0.25 kPa");
  ranking.elements[0].restriction_gain = 4e3;  // most of it goes with the flow
  CHECK_THAT(trial_change(line, ranking), Catch::StartsWith("hose.conductance=0.9"));
}

TEST_CASE("values are said as one would say them", "[report][closed-form]") {
  CHECK(said(4e-3, units::Dimension::length) == "4 mm");
  CHECK(said(units::Quantity::normal(35e-6, 5e-6), units::Dimension::length) == "35 um ± 5 um");
  CHECK(said(units::Quantity::uniform(20e-6, 45e-6), units::Dimension::length) == "20 um to 45 um");
  line::Line humped = sample::line();
  humped.elements[0].pump->current = {{0.0, 0.7}, {40e3, 1.1}, {80e3, 0.95}};
  CHECK_THAT(described(humped.elements[0]), Contains("draws 700 mA to 1.1 A"));
  CHECK(described(sample::line().elements[1]) == "tube, bore 4 mm, 800 mm long; leaks: a hole of 80 um");
}

TEST_CASE("what the motors draw is told of those whose current the file knows", "[report][property]") {
  line::Line line = sample::line();  // 0.2 A at no vacuum, 0.4 A at 70 kPa
  solve::SteadyAnswer steady = sample::steady();
  steady.sources[0].vacuum = 35e3;
  CHECK_THAT(flat(steady_text(line, steady, {})), Contains(" Its motor draws 300.0 mA."));
  steady.sources.push_back({1, 48e3, 1e-5});
  CHECK_THAT(flat(steady_text(line, steady, {})), Contains(" The motor draws 300.0 mA (the pump)."));
  line.elements[1].pump = line.elements[0].pump;
  line.elements[1].pump->current = {{0.0, 1.2}, {70e3, 1.2}};
  CHECK_THAT(flat(steady_text(line, steady, {})),
             Contains(" The motors draw 300 mA (the pump) and 1200 mA (the hose)."));
  CHECK_THAT(steady_json(line, steady), Contains("\"current_a\": 1.2"));
  line.elements[0].pump->current.clear();
  line.elements[1].pump.reset();
  CHECK_THAT(flat(steady_text(line, steady, {})), !Contains("motor"));
  CHECK_THAT(steady_json(line, steady), Contains("\"current_a\": null"));
}

TEST_CASE("pressures of a file are said in the unit that was asked for", "[report][closed-form]") {
  line::Element tee;
  tee.kind = line::Kind::tee;
  const auto inches = [](const char* text) { return units::parse(text, units::Dimension::pressure); };
  tee.gauge = line::Gauge{};
  tee.gauge->accuracy = inches("0.5 inHg");
  tee.gauge->resolution = inches("0.2 inHg");
  tee.gauge->range = inches("29 inHg");
  Look look;
  CHECK(described(tee, look) == "tee, gauge good to ±1.693 kPa in steps of 0.6773 kPa down to 98.21 kPa");
  look.vacuum = units::find_unit("inHg", units::Dimension::pressure);
  CHECK(described(tee, look) == "tee, gauge good to ±0.5 inHg in steps of 0.2 inHg down to 29 inHg");
  line::Pump ejector;
  ejector.supply = 5e5;  // no vacuum
  line::Element source;
  source.kind = line::Kind::ejector;
  source.pump = ejector;
  CHECK(described(source, look) == "ejector, fed with 500 kPa");
  CHECK_THAT(check_text(sample::line(), {}, look), Contains("The room: ") && Contains(" inHg, "));
}

TEST_CASE("a part is above the rim only where there is one", "[report][closed-form]") {
  line::Part part;
  part.mass = 12e-6;
  CHECK(described(part, false) == "part, 12 mg, flat on the mouth");
  part.gap = 4e-6;
  CHECK(described(part, true) == "part, 12 mg, 4 um above the rim");
  CHECK(described(part, false) == "part, 12 mg, 4 um above the mouth");
}
