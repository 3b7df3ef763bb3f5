#include "study/compare.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "errors.hpp"
#include "lines/lines.hpp"
#include "read/line_file.hpp"
#include "report/compare_text.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;

namespace {

/// The jewel setter, sure of everything but what a test names. Without its cycle and sensor, whose answers take long.
study::Variant variant(const std::string& name, const std::vector<std::string>& sets) {
  std::vector<read::Change> changes{read::change_of("filter.leak.rated=0.5 mL/min"), read::change_of("part.gap=4 um")};
  for (const std::string& set : sets) changes.push_back(read::change_of(set));
  study::Variant result{name, read::read_line(std::string(AIRTALLY_LINES) + "/jewel-setter.toml", {}, changes)};
  result.line.cycle.reset();
  result.line.sensor.reset();
  return result;
}

const std::string unsure = "rotary joint.leak.clearance=20..45 um";

study::SampleOptions samples(std::size_t n) {
  study::SampleOptions options;
  options.samples = n;
  return options;
}

std::size_t drawn(const study::CompareBands& bands, std::string_view key) {
  for (std::size_t r = 0; r < bands.drawn.size(); ++r)
    if (bands.drawn[r] == study::result_of(key)) return r;
  FAIL("not drawn");
  return 0;
}

const line::Difference* find(const std::vector<line::Difference>& all, const std::string& owner,
                             const std::string& key) {
  for (const line::Difference& difference : all)
    if (difference.owner == owner && difference.key == key) return &difference;
  return nullptr;
}

}  // namespace

TEST_CASE("a line does not differ from itself, and is better than itself at nothing", "[study][compare][property]") {
  const std::vector<study::Variant> twice{variant("one", {unsure}), variant("two", {unsure})};
  const study::Comparison comparison = study::compare(twice);
  CHECK(comparison.differences.empty());
  REQUIRE(comparison.judgements.size() == 2);
  for (const study::Judgement& judgement : comparison.judgements) CHECK(judgement.alike);
  const study::CompareBands bands = study::compare_bands(twice, comparison, false, samples(32));
  for (std::size_t r = 0; r < bands.drawn.size(); ++r) {
    CHECK(bands.beats(r, 0, 1) == 0.0);
    CHECK(bands.beats(r, 1, 0) == 0.0);
    CHECK(bands.best(r, 0) == 0.5);
    CHECK(bands.values[r][0] == bands.values[r][1]);
  }
  CHECK(bands.influence.empty());
}

TEST_CASE("differences name the element and the key, and only what differs", "[line][compare][property]") {
  const std::vector<line::Line> lines{test::scenario("jewel-setter"), test::scenario("jewel-setter-twist"),
                                      variant("x", {"head hose.length=0.2 m"}).line};
  const auto all = line::differences(lines);
  const line::Difference* joint = find(all, "rotary joint", "");
  REQUIRE(joint != nullptr);
  CHECK((joint->values[0] && !joint->values[1] && joint->values[2]));
  const line::Difference* tube = find(all, "twist tube", "");
  REQUIRE(tube != nullptr);
  CHECK((!tube->values[0] && tube->values[1] && !tube->values[2]));
  const line::Difference* length = find(all, "head hose", "length");
  REQUIRE(length != nullptr);
  CHECK(std::get<units::Quantity>(*length->values[0]).value == 0.5);
  CHECK(std::get<units::Quantity>(*length->values[2]).value == 0.2);
  // The gap is 4 um in all, but not in all with a tolerance.
  REQUIRE(find(all, "part", "gap") != nullptr);
  CHECK(find(all, "cycle", "") != nullptr);
  CHECK(find(all, "cycle", "touch") == nullptr);  // the only two that have one have it alike
  for (const char* same : {"pump", "supply hose", "gauge tee", "valve", "spindle", "nozzle", "move", "site"})
    for (const line::Difference& difference : all) CHECK(difference.owner != same);
}

TEST_CASE("an element named like a table is told from it", "[line][compare][property]") {
  std::vector<line::Line> lines{test::scenario("jewel-setter"), test::scenario("jewel-setter")};
  for (line::Line& line : lines) line.elements.back().name = "part";
  lines[1].part.reset();
  const auto all = line::differences(lines);
  const line::Difference* part = find(all, "part", "");
  REQUIRE(part != nullptr);
  CHECK((part->values[0] && !part->values[1]));
  CHECK_FALSE(part->elements[0]);
}

TEST_CASE("effort and the nozzle of a head are compared", "[line][compare][property]") {
  std::vector<line::Line> lines(2, test::scenario("two-spindle-sorter"));
  test::element(lines[1], "filter 1").effort = 3.0;
  lines[1].cycle->heads.at(0).nozzle = "nozzle 1";
  const auto all = line::differences(lines);
  CHECK(all.size() == 2);
  const line::Difference* effort = find(all, "filter 1", "effort");
  REQUIRE(effort != nullptr);
  CHECK(std::get<units::Quantity>(*effort->values[0]).value != 3.0);
  CHECK(std::get<units::Quantity>(*effort->values[1]).value == 3.0);
  const line::Difference* nozzle = find(all, "cycle", "head[1].nozzle");
  REQUIRE(nozzle != nullptr);
  CHECK(std::get<std::string>(*nozzle->values[0]) == "nozzle 2");
  CHECK(std::get<std::string>(*nozzle->values[1]) == "nozzle 1");
}

TEST_CASE("the order of elements is a difference of its own", "[line][compare][property]") {
  std::vector<line::Line> lines(2, test::scenario("jewel-setter"));
  std::swap(lines[1].elements[3], lines[1].elements[4]);
  const auto all = line::differences(lines);
  REQUIRE(all.size() == 1);
  CHECK(all[0].owner == "line");
  CHECK(all[0].key == "order");
}

// A's clearance lies anywhere in 20 .. 45 um; that of B is 30 um. A tighter joint gives more vacuum, so B is ahead
// exactly where A's clearance exceeds 30 um: in 15/25 of the cases. The points of the Sobol sequence lie one in each
// 512th of the range, so that the share is out by one point at most.
TEST_CASE("the odds that one beats another are the closed ones", "[study][compare][closed-form]") {
  const std::vector<study::Variant> two{variant("A", {unsure}), variant("B", {"rotary joint.leak.clearance=30 um"})};
  const study::Comparison comparison = study::compare(two);
  const study::CompareBands bands = study::compare_bands(two, comparison, false, samples(512));
  for (const char* key : {"part_vacuum_pa", "blocked_vacuum_pa", "margin_pa", "leaks_kg_s"}) {
    CAPTURE(key);
    const std::size_t r = drawn(bands, key);
    CHECK_THAT(bands.beats(r, 1, 0), WithinAbs(0.6, 1.0 / 512));
    CHECK_THAT(bands.beats(r, 0, 1), WithinAbs(0.4, 1.0 / 512));
    CHECK_THAT(bands.best(r, 0).value() + bands.best(r, 1).value(), WithinAbs(1.0, 1e-12));
  }
  REQUIRE(bands.inputs.size() == 1);
  REQUIRE(bands.influence.size() == 1);
  // One input is all there is to know: its indices are 1, to the noise of 128 base points.
  CHECK_THAT(bands.influence[0].total, WithinAbs(1.0, 0.1));
}

// Both are unsure of the same clearance, which moves the vacuum by tens of kilopascals; B's hose is a little shorter.
// Drawn together B is ahead in every sample; drawn apart it would be so in about half.
TEST_CASE("what is named alike is drawn alike, so that a small difference shows", "[study][compare][property]") {
  const std::vector<study::Variant> two{variant("A", {unsure}), variant("B", {unsure, "head hose.length=0.45 m"})};
  const study::Comparison comparison = study::compare(two);
  const study::CompareBands bands = study::compare_bands(two, comparison, false, samples(64));
  const std::size_t r = drawn(bands, "part_vacuum_pa");
  CHECK(bands.beats(r, 1, 0) == 1.0);
  const study::Band a = study::band_of(bands.values[r][0]), b = study::band_of(bands.values[r][1]);
  CHECK(a.high - a.low > 20.0 * (b.median - a.median));
  CHECK(bands.inputs.size() == 1);
}

// Two copies and a line whose joint leaks more: none of the copies is the best alone.
TEST_CASE("where no switch tells as it is set, lines are judged by the best set point of each",
          "[study][compare][property]") {
  const auto with = [](const std::string& name, double on, double hose) {
    study::Variant one = variant(name, {});
    line::Sensor sensor;
    sensor.at = "gauge tee";
    sensor.accuracy = 2e3;
    sensor.ready_made = line::VacuumSwitch{on, 1e3, 0.0};
    one.line.sensor = sensor;
    std::get<line::Bore>(test::element(one.line, "head hose").restriction).length = hose;
    return one;
  };
  const std::size_t as_set = study::result_of("separation"), best = study::result_of("best_separation");
  // Both are set too high; the one that is wrong by less is the other.
  const std::vector<study::Variant> wrong{with("near", 55e3, 2.0), with("far", 70e3, 0.2)};
  const study::Comparison none = study::compare(wrong);
  CHECK(none.judgements.back().aim == study::Aim::sensing);
  CHECK(none.judgements.back().result == best);
  CHECK(none.judgements.back().best == 1);
  CHECK(none.variants[0].values[as_set] > none.variants[1].values[as_set]);
  CHECK(none.variants[0].values[best] < none.variants[1].values[best]);
  for (const study::VariantAnswer& answer : none.variants) {
    CHECK_FALSE(*answer.tells_at_rest);
    CHECK(*answer.tells_set_best);
  }
  const auto said = [](const std::vector<study::Variant>& variants, const study::Comparison& comparison) {
    std::string text = report::compare_verdict(variants, comparison, {}, {});
    std::string flat;
    for (const char c : text)
      if (c != '\n' && c != ' ')
        flat += c;
      else if (!flat.empty() && flat.back() != ' ')
        flat += ' ';
    return flat;
  };
  CHECK_THAT(said(wrong, none),
             Catch::Contains("sensing: neither tells held from missed as it is set. With the best set "
                             "point of each, B has ") &&
                 Catch::Contains(" more than A. Both tell then."));
  // Where one tells, that counts.
  const std::vector<study::Variant> one{with("set", 35e3, 2.0), with("far", 70e3, 0.2)};
  const study::Comparison first = study::compare(one);
  CHECK(first.judgements.back().result == as_set);
  CHECK(first.judgements.back().best == 0);
  CHECK_THAT(said(one, first), Catch::Contains("sensing: A tells held from missed by ") &&
                                   Catch::Contains(" more than B, which does not tell well enough."));
}

TEST_CASE("a sensor that fails in the pick alone is said to", "[study][compare][property]") {
  study::Comparison comparison;
  const std::vector<study::Variant> two{variant("one", {}), variant("two", {})};
  for (const double separation : {5.5, 4.4}) {
    study::VariantAnswer& answer = comparison.variants.emplace_back();
    answer.values.assign(study::results().size(), std::numeric_limits<double>::quiet_NaN());
    answer.values[study::result_of("separation")] = separation;
    answer.tells = false;
    answer.tells_at_rest = true;
  }
  comparison.judgements.push_back({study::Aim::sensing, study::result_of("separation"), 0, {0}, 1, false});
  const std::string text = report::compare_verdict(two, comparison, {}, {});
  CHECK_THAT(text, Catch::Contains("with the line at rest") && Catch::Contains("not in the pick of its"));
}

TEST_CASE("those whom the best is not ahead of are the best with it", "[study][compare][property]") {
  const std::string worse = "rotary joint.leak.clearance=60 um";
  const std::vector<study::Variant> three{variant("A", {}), variant("B", {}), variant("C", {worse})};
  const study::Comparison comparison = study::compare(three);
  REQUIRE(comparison.judgements.size() == 2);
  for (const study::Judgement& judgement : comparison.judgements) {
    CHECK_FALSE(judgement.alike);
    CHECK(judgement.level == std::vector<std::size_t>{0, 1});
    CHECK(judgement.next == 2);
  }
  // A tie below the best is none for the first place.
  const study::Comparison other =
      study::compare(std::vector<study::Variant>{variant("A", {worse}), variant("B", {worse}), variant("C", {})});
  CHECK(other.judgements[0].level == std::vector<std::size_t>{2});
  CHECK(other.judgements[0].best == 2);
}

TEST_CASE("of tied variants one is best in as many draws as both together", "[study][compare][property]") {
  const std::vector<study::Variant> three{variant("A", {unsure}), variant("B", {unsure}),
                                          variant("C", {"rotary joint.leak.clearance=20 um", "head hose.length=3 m"})};
  const study::Comparison comparison = study::compare(three);
  const study::CompareBands bands = study::compare_bands(three, comparison, false, samples(64));
  const std::size_t r = drawn(bands, "part_vacuum_pa");
  const std::vector<std::size_t> both{0, 1};
  CHECK_THAT(bands.best_of(r, both).value(), WithinAbs(2.0 * bands.best(r, 0).value(), 1e-12));
  CHECK_THAT(bands.best_of(r, both).value() + bands.best(r, 2).value(), WithinAbs(1.0, 1e-12));
}

TEST_CASE("what is level", "[study][compare][property]") {
  const auto& margin = study::results()[study::result_of("margin_pa")];
  const auto& lift = study::results()[study::result_of("safe_lift_s")];
  const auto& mass = study::results()[study::result_of("heaviest_kg")];
  const double never = std::numeric_limits<double>::infinity();
  CHECK(study::level(margin, 50e3, 50.5e3));
  CHECK_FALSE(study::level(margin, 50e3, 50.6e3));
  CHECK(study::level(margin, -2.0, 7.0));
  CHECK_FALSE(study::level(margin, -6.0, 7.0));
  CHECK(study::level(lift, never, never));
  CHECK_FALSE(study::level(lift, 1.0, never));
  CHECK_FALSE(study::level(lift, std::nan(""), 1.0));
  CHECK_FALSE(study::level(mass, 100e-6, 110e-6));  // kilograms have no trifle of their own
  CHECK_FALSE(study::results()[study::result_of("leaks_kg_s")].ranks);
}

TEST_CASE("a comparison is the same for any number of threads", "[study][compare][property]") {
  const std::vector<study::Variant> two{variant("A", {unsure, "part.gap=2..6 um"}),
                                        variant("B", {"part.gap=1..3 um", "supply hose.bore=4 mm +- 0.2 mm"})};
  study::SampleOptions options = samples(32);
  options.threads = 1;
  const study::Comparison comparison = study::compare(two);
  const study::CompareBands one = study::compare_bands(two, comparison, true, options);
  CHECK(one.inputs.size() == 3);
  for (const unsigned threads : {2U, 3U}) {
    options.threads = threads;
    const study::CompareBands several = study::compare_bands(two, comparison, true, options);
    CHECK(one.values == several.values);
    CHECK(one.worst == several.worst);
    REQUIRE(one.influence.size() == several.influence.size());
    for (std::size_t i = 0; i < one.influence.size(); ++i) {
      CHECK(one.influence[i].first == several.influence[i].first);
      CHECK(one.influence[i].total == several.influence[i].total);
    }
  }
  double sum = 0.0;
  for (const double share : one.worst[0]) sum += share;
  CHECK_THAT(sum, WithinAbs(1.0, 1e-12));
}

TEST_CASE("never is worse than any number, and what does not arise is neither better nor worse",
          "[study][compare][property]") {
  const auto& lift = study::results()[study::result_of("safe_lift_s")];
  const auto& margin = study::results()[study::result_of("margin_pa")];
  const double never = std::numeric_limits<double>::infinity(), none = std::nan("");
  CHECK(study::better(lift, 1e9, never));
  CHECK_FALSE(study::better(lift, never, never));
  CHECK_FALSE(study::better(lift, none, 1.0));
  CHECK_FALSE(study::better(lift, 1.0, none));
  CHECK(study::better(lift, 1.0, 2.0));
  CHECK(study::better(margin, 2.0, 1.0));
  CHECK_FALSE(study::better(margin, 1.0, 1.0 + 1e-8));
}

// The head that comes down last lifts last, whatever its line is like.
TEST_CASE("heads are compared by their wait from touch, not by when they come down", "[study][compare][property]") {
  std::vector<study::HeadCycle> heads(2);
  heads[0].touch = 0.1;
  heads[0].safe_lift = 0.25;
  heads[1].touch = 0.3;
  heads[1].safe_lift = 0.31;
  heads[1].margin_at_lift = -5.0;
  const study::PickResults worst = study::pick_results(heads);
  CHECK_THAT(worst.wait, WithinAbs(0.15, 1e-12));
  CHECK(worst.margin_at_lift == -5.0);
  CHECK(worst.margin_in_travel == 0.0);
  heads[1].safe_lift.reset();
  CHECK(std::isinf(study::pick_results(heads).wait));

  std::vector<study::Variant> two{variant("A", {}), variant("B", {})};
  for (study::Variant& one : two) {
    one.line.cycle = test::scenario("jewel-setter").cycle;
    one.line.cycle->lift.reset();
  }
  two[1].line.cycle->touch = two[1].line.cycle->valve_on = two[0].line.cycle->touch.value + 0.05;
  const study::Comparison comparison = study::compare(two);
  const std::size_t wait = study::result_of("safe_lift_s");
  const double first = comparison.variants[0].values[wait];
  CHECK((first > 1e-3 && first < 0.05));
  CHECK_THAT(comparison.variants[1].values[wait], WithinAbs(first, 1e-4));
  CHECK(comparison.judgements[1].alike);
  two[0].line.part->gap = two[1].line.part->gap = units::Quantity::uniform(3e-6, 5e-6);
  const study::CompareBands bands = study::compare_bands(two, comparison, true, samples(8));
  const std::size_t r = drawn(bands, "safe_lift_s");
  for (const double value : bands.values[r][1]) CHECK_THAT(value, WithinAbs(first, 1e-3));
}

TEST_CASE("a cycle that fails at the widest gap alone is told, as cycle ends with 1 on it",
          "[study][compare][property]") {
  std::vector<study::Variant> two{variant("A", {"part.gap=2..40 um"}), variant("B", {"part.gap=2..4 um"})};
  for (study::Variant& one : two) one.line.cycle = test::scenario("jewel-setter").cycle;
  for (study::Variant& one : two) one.line.cycle->lift = 68.385e-3;
  const study::Comparison comparison = study::compare(two);
  CHECK(comparison.variants[0].values[study::result_of("margin_at_lift_pa")] > 0.0);
  CHECK(comparison.variants[0].values[study::result_of("margin_in_travel_pa")] > 0.0);
  CHECK(comparison.variants[0].cycle_works == false);
  CHECK(std::min(comparison.variants[0].widest_at_lift.value(), *comparison.variants[0].widest_in_travel) < 0.0);
  CHECK(comparison.variants[1].cycle_works == true);
  const std::string text = report::compare_text(two, comparison, {}, {});
  CHECK(text.find("At the widest gap of the part not all keep it") != std::string::npos);
}

TEST_CASE("under a part that closes no nozzle the tip has what it has open", "[study][compare][property]") {
  const std::vector<std::string> small{"part.length=0.5 mm", "part.width=0.5 mm"};
  const std::vector<study::Variant> two{variant("A", small), variant("B", {})};
  const study::Comparison comparison = study::compare(two);
  const std::vector<double>& values = comparison.variants[0].values;
  CHECK(values[study::result_of("part_vacuum_pa")] == values[study::result_of("open_vacuum_pa")]);
  const study::CompareBands bands = study::compare_bands(
      std::vector<study::Variant>{variant("A", {unsure, small[0], small[1]}), two[1]}, comparison, false, samples(8));
  CHECK(bands.values[drawn(bands, "part_vacuum_pa")][0] == bands.values[drawn(bands, "open_vacuum_pa")][0]);
}

TEST_CASE("a comparison of one, or of a line without a nozzle, is refused", "[study][compare][property]") {
  const std::vector<study::Variant> one{variant("A", {})};
  CHECK_THROWS_AS(study::compare(one), BadInput);
  std::vector<study::Variant> two{variant("A", {}), variant("B", {})};
  two[1].line.elements.pop_back();
  CHECK_THROWS_AS(study::compare(two), BadInput);
}
