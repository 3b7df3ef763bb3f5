// What was likely before anything was read is no finding.
#include "hunt/verdict/before.hpp"

#include <catch2/catch.hpp>

#include "hunt/bench.hpp"
#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"

using namespace airtally;
using namespace airtally::hunt;

namespace {

/// Three needles on one gauge, under seeds that seal badly: a needle that is a little clogged costs its tip a good
/// deal.
line::Line three_needles() {
  std::string text = R"(format = 1
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "40 L/min"], ["30 kPa", "25 L/min"], ["60 kPa", "0 L/min"]]
[[element]]
name = "tee"
kind = "tee"
gauge = { accuracy = "0.5 kPa", resolution = "0.1 kPa" }
)";
  for (const char* name : {"needle 1", "needle 2", "needle 3"})
    text += std::string("[[element]]\nname = \"") + name +
            "\"\nkind = \"nozzle\"\nafter = \"tee\"\nbore = \"0.6 mm\"\nlength = \"15 mm\"\nrim = \"1.2 mm\"\n";
  return read::read_line_text(text + "[part]\nmass = \"1.2 mg\"\ngap = \"30..90 um\"\n", "needles.toml");
}

/// The tee's readings with each needle blocked in turn, of a line with these unknowns.
Readings blocked_in_turn(const line::Line& line, const Suspects& all, const std::vector<double>& z) {
  Readings readings;
  for (const char* cap : {"tee", "needle 1", "needle 2", "needle 3"}) {
    Reading reading = tests::capped(line, cap);
    Rig rig(all, line::topology(all.line), reading.setting);
    rig.solve(all.values(z));
    reading.value = rig.read(Instrument::vacuum, reading.at, all.values(z));
    readings.list.push_back(reading);
  }
  return readings;
}

}  // namespace

TEST_CASE("of several nozzles one is a little clogged, whatever is read, and no finding", "[hunt][property]") {
  const line::Line line = three_needles();
  const Suspects all = suspects(line, {});
  const std::vector<double> well(all.unknowns.size(), 0.0);
  const std::vector<std::size_t> needles = line::all_of(line, line::Kind::nozzle);
  // Before anything is read one of them is notably worse than a clear one, more often than not.
  CHECK(chance_before(all, {well}, {1.0}, solve::usual_tips(line), {}) == 0.0);
  const std::vector<std::vector<double>> same(96, well);
  const std::vector<double> weight(96, 1.0 / 96.0);
  const double any = chance_before(all, same, weight, solve::usual_tips(line), needles),
               one = chance_before(all, same, weight, solve::usual_tips(line), {needles.front()});
  CHECK(any > 0.8);
  CHECK(one < any);
  CHECK(one > 0.3);
  HuntOptions options;
  options.next = 0;
  const Hunt sound = hunt::hunt(line, blocked_in_turn(line, all, well), options);
  CHECK(sound.amiss_among.empty());
  CHECK(amiss(sound).empty());
  // A tee that lets in air is nothing that was likely before.
  const std::vector<double> z = tests::with(all, What::leak, 1, 5.0 * 1.185e-3 / 60.0 / all.leak_at_one[1]);
  const Hunt leaking = hunt::hunt(line, blocked_in_turn(line, all, z), options);
  CHECK((!leaking.amiss_among.empty() || !amiss(leaking).empty()));
}
