#include <algorithm>
#include <bit>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "lines/lines.hpp"
#include "read/stock.hpp"
#include "read/twist_file.hpp"
#include "study/question.hpp"
#include "study/question_joint.hpp"
#include "study/question_pumps.hpp"

using namespace airtally;

namespace {

/// A NaN of its own, which no question writes: where it is left, nothing was written.
const double unwritten =
    std::bit_cast<double>(std::bit_cast<std::uint64_t>(std::numeric_limits<double>::quiet_NaN()) | 0xA17);

bool untouched(double value) { return std::bit_cast<std::uint64_t>(value) == std::bit_cast<std::uint64_t>(unwritten); }

/// Measures and answers are two lists that are written apart: as many of the one as of the other. `may_lack`:
/// the key of what may be none in a sound line; all else is finite.
void check_written(const std::string& what, const study::Question& question, const line::Line& line,
                   std::string_view may_lack = {}) {
  constexpr std::size_t beyond = 64;
  std::vector<double> out(question.measures.size() + beyond, unwritten);
  question.answer(study::as_stated(line), std::span(out).first(question.measures.size()));
  for (std::size_t m = 0; m < question.measures.size(); ++m) {
    const study::Measure& measure = question.measures[m];
    CAPTURE(line.file, what, measure.key, measure.element, m);
    CHECK_FALSE(untouched(out[m]));
    if (measure.key != may_lack) CHECK(std::isfinite(out[m]));
    if (measure.quality == study::Quality::chance) CHECK((out[m] == 0.0 || out[m] == 1.0));
  }
  CAPTURE(line.file, what);
  CHECK(std::all_of(out.end() - beyond, out.end(), untouched));
}

}  // namespace

TEST_CASE("every question writes each of its measures and nothing beyond", "[study][question][property]") {
  const std::filesystem::path catalogue = AIRTALLY_LINES "/catalogue";
  for (const char* name :
       {"ejector-head", "jewel-setter", "jewel-setter-twist", "seed-tray", "two-spindle-sorter", "wet-seed-arm"}) {
    const line::Line line = test::scenario(name);
    const auto usual = solve::usual_tips(line);
    check_written("steady", study::steady_question(line, usual), line);
    // A gauge that is not on the line yet shows nothing.
    check_written("strip", study::strip_question(line, usual), line, "vacuum_pa");
    check_written("rise", study::rise_question(line, usual, solve::Thermal::wall), line);
    check_written("rank", study::rank_question(line, usual, {}), line);
    study::PumpsOptions pumps;
    pumps.stock = read::read_stock({catalogue}, {line::Kind::pump, line::Kind::ejector}, line.site.pressure);
    check_written("pumps", study::pumps_question(line, pumps), line);
    check_written("hold", study::hold_question(line), line);
    if (line.cycle) {
      check_written("cycle", study::cycle_question(line, {}), line);
      check_written("cycle curve", study::cycle_curve_question(line), line);
    }
    if (line.sensor) check_written("sense", study::sense_question(line, std::nullopt), line);
    if (const auto twist = read::read_twist(line.file)) {
      // There may be no pace at which both cost the same.
      check_written("joint", study::joint_question(line, *twist, {}), line, "even_placement_s");
      const std::vector<line::Seal> seals = read::read_seals({catalogue}, line.site.pressure);
      check_written("joint, seals", study::joint_question(line, *twist, seals), line, "even_placement_s");
    }
  }
}

TEST_CASE("a question about some of the nozzles writes what it says of these", "[study][question][property]") {
  const line::Line line = test::scenario("two-spindle-sorter");
  std::vector<solve::TipState> tips = solve::all_tips(line, solve::TipState::part);
  REQUIRE(tips.size() > 1);
  tips.front() = solve::TipState::blocked;
  check_written("hold", study::hold_question(line, tips), line);
  check_written("steady", study::steady_question(line, tips), line);
}
