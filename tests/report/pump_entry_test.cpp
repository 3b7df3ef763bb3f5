#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "read/pump_readings_file.hpp"
#include "read/stock.hpp"
#include "report/pump_fit_text.hpp"
#include "study/random.hpp"

using namespace airtally;

namespace {

std::string entry_of(const std::string& text) {
  const line::PumpReadings readings = read::read_pump_readings_text("format = 1\n" + text, "b.toml");
  return report::pump_entry(readings, study::pump_fit(readings, 24));
}

/// The entry as the catalogue's reader has it; throws what that has to complain of.
line::Element read_back(const std::string& entry) {
  const auto file = std::filesystem::temp_directory_path() / "airtally-pump-entry-test.toml";
  std::ofstream(file) << "format = 1\n" << entry;
  const auto stock = read::read_stock({file}, {line::Kind::pump}, 101325.0);
  std::filesystem::remove(file);
  return stock.at(0);
}

}  // namespace

TEST_CASE("an entry keeps to what an entry may be, however little the bench is sure of", "[report][pumps][property]") {
  // A hole nearly as tight as none: the flow is less sure than it is large.
  const std::string tight = entry_of(
      "blocked = \"62 kPa\"\nfree-flow = \"4 L/min\"\n[[reading]]\nvacuum = \"30 kPa\"\nhole = \"0.6 mm\"\n"
      "[[reading]]\nvacuum = \"61.3 kPa\"\nhole = \"0.1 mm\"\n");
  CAPTURE(tight);
  CHECK(tight.find("[\"61.30 kPa\", \"0.000..0.136 L/min\"]") != std::string::npos);
  CHECK(read_back(tight).pump->flow.size() == 4);

  // One point read twice is one pair, and one pair is no curve of the current.
  const std::string once = entry_of(
      "blocked = \"62 kPa\"\nfree-flow = \"4 L/min\"\n[[reading]]\nvacuum = \"30 kPa\"\nflow = \"2 L/min\"\n"
      "current = \"300 mA\"\n[[reading]]\nvacuum = \"30 kPa\"\nflow = \"2.05 L/min\"\ncurrent = \"302 mA\"\n");
  CHECK(once.find("current") == std::string::npos);
  CHECK(read_back(once).pump->flow.size() == 3);

  const std::string tiny = entry_of(
      "blocked = \"62 kPa\"\nfree-flow = \"0.4 mL/min\"\n[[reading]]\nvacuum = \"30 kPa\"\nflow = \"0.2 mL/min\"\n"
      "[[reading]]\nvacuum = \"30.004 kPa\"\nflow = \"0.1 mL/min\"\n");
  CAPTURE(tiny);
  CHECK(tiny.find("[\"0.00 kPa\", \"0.4000 mL/min\"]") != std::string::npos);
  CHECK(read_back(tiny).pump->flow.size() == 3);

  CHECK(entry_of("blocked = \"62 kPa\"\nfree-flow = \"9000 L/min\"\nsite = { altitude = \"3000 m\" }\n")
            .starts_with("# no entry"));
}

TEST_CASE("every entry reads back as the pump that was fitted", "[report][pumps][property]") {
  study::Random random(11);
  const auto pick = [&](double low, double high) { return low * std::pow(high / low, random.uniform()); };
  int entries = 0;
  for (int i = 0; i < 400; ++i) {
    const double deepest = pick(0.15, 100.0), free = pick(1e-7, 5e3);  // kPa, L/min
    const auto kpa = [&](double value) {
      const double sure = random.uniform() < 0.5 ? 0.0 : pick(1e-4, 0.3) * value;
      return "\"" + std::to_string(value) + (sure > 0.0 ? " +- " + std::to_string(sure) : "") + " kPa\"";
    };
    std::string text = "gauge = { accuracy = \"" + std::to_string(pick(1e-3, 2.0)) + " kPa\" }\n";
    if (random.uniform() < 0.8) text += "blocked = \"" + std::to_string(deepest) + " kPa\"\n";
    if (random.uniform() < 0.8) text += "free-flow = \"" + std::to_string(1e6 * free) + "e-6 L/min\"\n";
    double vacuum = 0.0;
    for (std::size_t r = random.below(7) + 1; r > 0; --r) {
      // Often as near to the one before as no gauge tells apart.
      vacuum = random.uniform() < 0.3 ? vacuum + pick(1e-4, 0.03) : random.uniform() * deepest;
      const double left = std::max(0.001, 1.0 - vacuum / deepest);
      text += "[[reading]]\nvacuum = " + kpa(std::max(1e-3, 0.7 * vacuum)) + "\n";
      if (random.uniform() < 0.5)
        text += "hole = \"" + std::to_string(pick(0.01, 3.0)) + " mm\"\n";
      else
        text += "flow = \"" + std::to_string(1e6 * free * left) + "e-6 L/min\"\n";
      if (random.uniform() < 0.5) text += "current = \"" + std::to_string(pick(0.01, 900.0)) + " mA\"\n";
    }
    CAPTURE(text);
    std::optional<line::PumpReadings> readings;
    std::optional<study::PumpFit> fit;
    try {
      readings = read::read_pump_readings_text("format = 1\n" + text, "b.toml");
      fit = study::pump_fit(*readings, 8, i);
    } catch (const BadInput&) {
      continue;  // nothing to print
    }
    const std::string entry = report::pump_entry(*readings, *fit);
    if (entry.starts_with('#')) continue;
    CAPTURE(entry);
    line::Element back;
    REQUIRE_NOTHROW(back = read_back(entry));
    ++entries;
    const auto& points = back.pump->flow;
    CHECK(points.front().value.value == Approx(fit->curve.front().flow.median).epsilon(6e-4));
    CHECK(points.back().vacuum.value == Approx(fit->deepest.median).epsilon(6e-4));
    // Points that the ammeter's steps make nothing of are left out: no motor draws nothing.
    const auto draws = [](const auto& point) { return point.second > 0.05e-3; };
    if (static_cast<std::size_t>(std::count_if(fit->current.begin(), fit->current.end(), draws)) == fit->current.size())
      CHECK((back.pump->current.size() >= 2) == (fit->current.size() >= 2));
    CHECK(back.pump->current.size() <= fit->current.size());
  }
  CHECK(entries > 200);
}
