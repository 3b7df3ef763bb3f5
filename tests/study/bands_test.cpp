#include "study/bands.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "errors.hpp"
#include "lines/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

line::Line with(const std::vector<std::string>& sets) {
  // The catalogue is not sure of its filter's leak, nor the bench of its sensor's zero; here only what a test names is
  // uncertain.
  std::vector<read::Change> changes{read::change_of("filter.leak.rated=0.5 mL/min"),
                                    read::change_of("sensor.zero=0 mV")};
  for (const std::string& set : sets) changes.push_back(read::change_of(set));
  return read::read_line(std::string(AIRTALLY_LINES) + "/jewel-setter.toml", {}, changes);
}

const std::vector<std::string> wide{"rotary joint.leak.clearance=20..45 um", "supply hose.bore=4 mm +- 0.2 mm",
                                    "part.gap=4 um +- 2 um"};

double tip(const line::Line& line) { return test::tip_vacuum(line, solve::TipState::part); }

void tip_of(const line::Line& line, std::span<double> out) { out[0] = tip(line); }

}  // namespace

TEST_CASE("bands are the same whatever the number of threads, and others for another seed", "[study][property]") {
  const line::Line line = with(wide);
  study::SampleOptions options;
  options.samples = 64;
  options.threads = 1;
  const study::Bands one = study::bands(line, 1, tip_of, options);
  for (const unsigned threads : {2U, 3U}) {
    options.threads = threads;
    const study::Bands several = study::bands(line, 1, tip_of, options);
    CHECK(one.values == several.values);
    CHECK(one.bands[0].low == several.bands[0].low);
    for (std::size_t i = 0; i < 3; ++i) CHECK(one.influence[0][i].first == several.influence[0][i].first);
  }
  options.seed = 2;
  CHECK(study::bands(line, 1, tip_of, options).values != one.values);
  options.seed = 1;
  options.influence = false;
  CHECK(study::bands(line, 1, tip_of, options).values == one.values);
}

// A sum of a normal value (sigma 1.5, by a tolerance of 3) and another (sigma 2) is normal with sigma 2.5; its central
// 90 % is 1.644853627 sigma either way (printed tables: 1.6449).
TEST_CASE("the band of a sum of two normal values is the closed one", "[study][closed-form]") {
  line::Line line = with({"part.gap=4 um"});
  line.part->mass = units::Quantity::normal(10.0, 3.0);
  line.part->height = units::Quantity::normal(20.0, 4.0);
  const auto sum = [](const line::Line& l, std::span<double> out) {
    out[0] = l.part->mass.value + l.part->height->value;
  };
  double coarse = 0.0, fine = 0.0;
  for (const std::size_t n : {64U, 4096U}) {
    double worst = 0.0;
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
      study::SampleOptions options;
      options.samples = n;
      options.seed = seed;
      const study::Bands found = study::bands(line, 1, sum, options);
      worst = std::max({worst, std::fabs(found.bands[0].median - 30.0),
                        std::fabs(found.bands[0].low - (30.0 - 2.5 * 1.644853627)),
                        std::fabs(found.bands[0].high - (30.0 + 2.5 * 1.644853627))});
      if (n == 4096) {
        // Parts of the variance: 1.5^2/2.5^2 and 2^2/2.5^2; a sum has no interaction.
        CHECK_THAT(found.influence[0][0].first, WithinAbs(0.36, 0.01));
        CHECK_THAT(found.influence[0][1].first, WithinAbs(0.64, 0.01));
        CHECK_THAT(found.influence[0][0].total, WithinAbs(0.36, 0.01));
        CHECK_THAT(found.influence[0][1].total, WithinAbs(0.64, 0.01));
      }
    }
    (n == 64 ? coarse : fine) = worst;
  }
  CAPTURE(coarse, fine);
  CHECK(fine < 0.05);
  CHECK(fine < 0.25 * coarse);
}

TEST_CASE("the band of one uncertain value is the answer at the value's own band", "[study][property]") {
  // Tip vacuum falls as the clearance rises, so its ends are the answers at 43.75 um and 21.25 um.
  study::SampleOptions options;
  options.samples = 1024;
  const study::Bands found =
      study::bands(with({"rotary joint.leak.clearance=20..45 um", "part.gap=4 um"}), 1, tip_of, options);
  const auto at = [](const char* clearance) {
    return tip(with({"part.gap=4 um", std::string("rotary joint.leak.clearance=") + clearance}));
  };
  CHECK_THAT(found.bands[0].low, WithinRel(at("43.75 um"), 1e-3));
  CHECK_THAT(found.bands[0].median, WithinRel(at("32.5 um"), 1e-3));
  CHECK_THAT(found.bands[0].high, WithinRel(at("21.25 um"), 1e-3));
  CHECK(found.failed == 0);
}

TEST_CASE("bands settle down as samples grow", "[study][property]") {
  const line::Line line = with(wide);
  study::SampleOptions options;
  options.influence = false;
  options.samples = 8192;
  const study::Band truth = study::bands(line, 1, tip_of, options).bands[0];
  options.samples = 512;
  options.seed = 7;
  const study::Band usual = study::bands(line, 1, tip_of, options).bands[0];
  const double width = truth.high - truth.low;
  // 512 samples: 26 lie beyond either end, so chance would put the end off by some 4 % of the width.
  CHECK_THAT(usual.low, WithinAbs(truth.low, 0.04 * width));
  CHECK_THAT(usual.median, WithinAbs(truth.median, 0.02 * width));
  CHECK_THAT(usual.high, WithinAbs(truth.high, 0.04 * width));
}

TEST_CASE("samples that do not converge are counted and left out; other trouble is told", "[study][property]") {
  const line::Line line = with({"part.gap=2..6 um"});
  const auto picky = [](const line::Line& l, std::span<double> out) {
    if (l.part->gap.value < 3e-6) throw NoConvergence("gives up");
    out[0] = l.part->gap.value;
  };
  const study::Bands found = study::bands(line, 1, picky);
  CHECK(found.failed == 128);  // a quarter of 512, exactly: every quarter of the range holds as many points
  CHECK(found.bands[0].low > 3e-6);
  // A line that was drawn beyond what a law takes costs itself alone, however it is told.
  const auto beyond = [](const line::Line& l, std::span<double> out) {
    if (l.part->gap.value < 3e-6) throw DomainError("outside");
    out[0] = l.part->gap.value;
  };
  CHECK(study::bands(line, 1, beyond).failed == 128);
  const auto overlap = [](const line::Line& l, std::span<double> out) {
    if (l.part->gap.value < 3e-6) throw BadInput(Position{}, "out of order.");
    out[0] = l.part->gap.value;
  };
  CHECK(study::bands(line, 1, overlap).failed == 128);
  const auto never = [](const line::Line&, std::span<double>) { throw NoConvergence("gives up"); };
  CHECK_THROWS_AS(study::bands(line, 1, never), NoConvergence);
  const auto bad = [](const line::Line&, std::span<double>) { throw BadInput(Position{}, "no such thing."); };
  CHECK_THROWS_AS(study::bands(line, 1, bad), BadInput);
  const auto wrong = [](const line::Line&, std::span<double>) { throw DomainError("outside"); };
  CHECK_THROWS_AS(study::bands(line, 1, wrong), DomainError);
}

TEST_CASE("a time that does not come is the longest of a band", "[study][closed-form]") {
  // Twenty values stand at 2.5 %, 7.5 % and so on; the 5 % point is half way between the first two.
  std::vector<double> values(20);
  for (std::size_t k = 0; k < 20; ++k) values[k] = static_cast<double>(k);
  values[19] = values[18] = study::never;
  study::Band band = study::band_of(values);
  CHECK_THAT(band.low, WithinRel(0.5, 1e-12));
  CHECK_THAT(band.median, WithinRel(9.5, 1e-12));
  CHECK(band.high == study::never);
  for (std::size_t k = 5; k < 20; ++k) values[k] = study::never;
  band = study::band_of(values);
  CHECK_THAT(band.low, WithinRel(0.5, 1e-12));
  CHECK(band.median == study::never);
  CHECK(study::band_of({study::never, study::never}).low == study::never);
  CHECK(study::band_of({study::nothing, 3.0}).high == 3.0);
}

TEST_CASE("progress is told to the end, from the calling thread", "[study][property]") {
  const line::Line line = with({"part.gap=2..6 um"});
  study::SampleOptions options;
  options.threads = 1;
  options.samples = 32;
  std::size_t last = 0, all = 0;
  options.progress = [&](std::size_t done, std::size_t of) {
    CHECK(done == last + 1);
    last = done;
    all = of;
  };
  study::bands(line, 1, tip_of, options);
  CHECK(last == all);
  CHECK(all == 32 + 16 * 3);
}
