// Who may be at fault in the place of what seems worse than the file has it.
#include "hunt/verdict/instead.hpp"

#include <catch2/catch.hpp>

#include "hunt/bench.hpp"
#include "hunt/hunt.hpp"

using namespace airtally;
using namespace airtally::hunt;

namespace {

/// Readings without noise of the line in a state, of caps behind these elements; a name with "!" behind it has the
/// plate with a hole of 0.8 mm there.
std::vector<Reading> read_in(const line::Line& line, const Suspects& all, const std::vector<double>& z,
                             const std::vector<std::string>& caps) {
  std::vector<Reading> list;
  for (const std::string& cap : caps) {
    const bool plate = cap.ends_with('!');
    Reading reading = tests::capped(line, plate ? cap.substr(0, cap.size() - 1) : cap);
    if (plate) reading.setting.hole = 0.8e-3;
    Rig rig(all, line::topology(all.line), reading.setting);
    rig.solve(all.values(z));
    reading.value = rig.read(Instrument::vacuum, reading.at, all.values(z));
    list.push_back(reading);
  }
  return list;
}

std::string instead(const line::Line& line, What what, const std::string& culprit, double value,
                    const std::vector<std::string>& caps, const std::string& blamed) {
  const Suspects all = suspects(line, {});
  const auto z = tests::with(all, what, *line::find(line, culprit), value);
  Evidence evidence(all, read_in(line, all, z, caps), {});
  const auto rival = instead_of(all, evidence, find_modes(all, evidence), *line::find(line, blamed));
  return rival ? line.elements[rival->element].name : "none";
}

}  // namespace

TEST_CASE("a weak pump may stand where a leak seems to have grown", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  // Capped before and behind the joint: its step is as large by a weak pump as by a leak that has grown.
  CHECK(instead(line, What::pump_flow, "pump", 0.5, {"tee", "nozzle"}, "joint") == "pump");
  // A plate before the joint reads the pump's flow by itself.
  CHECK(instead(line, What::leak, "joint", 3.0, {"tee", "tee!", "filter", "joint", "nozzle"}, "joint") == "none");
}
