#include <catch2/catch.hpp>

#include "read/line_file.hpp"
#include "read/refusal.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;

namespace {

constexpr const char* tail = "\n[[element]]\nname = \"t\"\nkind = \"tee\"\n";

line::Sensor sensor_of(const std::string& keys) {
  return read::read_line_text("format = 1\n[sensor]\n" + keys + tail, "l.toml").sensor.value();
}

std::string sensor_refused(const std::string& keys) { return test::refusal("format = 1\n[sensor]\n" + keys + tail); }

const std::string bridge = "at = \"t\"\nrange = \"1 bar\"\nspan = \"100 mV\"\nexcitation = \"5 V\"\n";
const std::string adc = "adc = { bits = 12, reference = \"3.3 V\" }\n";

}  // namespace

TEST_CASE("[sensor] is read in SI", "[read][closed-form]") {
  const line::Sensor s = sensor_of(
      bridge +
      "tube = { bore = \"1 mm\", length = \"80 mm\" }\nvolume = \"0.2 mL\"\nzero = \"1 +- 5 mV\"\n"
      "resistance = \"3.3 kohm\"\naccuracy = \"1 kPa\"\nnoise = \"20 Pa\"\nvacuum = \"down\"\nallowed = \"100e-6\"\n"
      "amplifier = { kind = \"difference\", gain = 47, resistor-tolerance = \"1 %\", input-resistor = \"10 kohm\", "
      "offset = \"2 mV\", rejection = 86, noise = \"5 uV\", bias = \"0.5 V\", rail-low = \"50 mV\", rail-high = \"1.8 "
      "V\" "
      "}\nadc = { bits = 10, reference = \"3.3 V\", rate = \"2 kHz\", average = 16, noise = 0.5 }");
  CHECK(s.at == "t");
  CHECK_THAT(s.range.value, WithinRel(100e3, 1e-12));
  CHECK_THAT(s.span.value, WithinRel(0.1, 1e-12));
  CHECK_THAT(s.zero.standard_deviation(), WithinRel(2.5e-3, 1e-12));
  CHECK_THAT(s.resistance.value, WithinRel(3300.0, 1e-12));
  CHECK_FALSE(s.vacuum_raises);
  CHECK(s.allowed.value == 1e-4);
  CHECK(s.amplifier.kind == line::FrontEnd::difference);
  CHECK_THAT(s.amplifier.resistor_tolerance.value, WithinRel(0.01, 1e-12));
  CHECK(s.amplifier.rejection.value().value == 86.0);
  CHECK_THAT(s.amplifier.rail_high.value().value, WithinRel(1.8, 1e-12));
  CHECK(s.adc.rate.value == 2000.0);
  CHECK(s.adc.average.value == 16.0);
  REQUIRE(s.tube);
  CHECK_THAT(s.tube->length.value, WithinRel(0.08, 1e-12));
}

TEST_CASE("without an amplifier the bridge is bare", "[read][property]") {
  CHECK(sensor_of(bridge + adc).amplifier.kind == line::FrontEnd::bare);
}

TEST_CASE("a converter has its own reference", "[read][property]") {
  const std::string converter = bridge + "amplifier = { kind = \"converter\", gain = 64 }\n";
  CHECK(sensor_of(converter + "adc = { bits = 24 }\n").adc.bits.value == 24.0);
  CHECK_THAT(sensor_refused(converter + adc), Catch::Contains("'adc.reference' is not a key of a converter's 'adc'"));
}

TEST_CASE("mistakes in [sensor] are told with their place", "[read][property]") {
  CHECK_THAT(sensor_refused(adc), Catch::Contains("needs 'at'"));
  CHECK_THAT(sensor_refused(bridge), Catch::Contains("needs 'adc'"));
  for (const char* key : {"bits", "average"})
    for (const char* part : {"12.5", "\"8..12\"", "\"12 +- 1\""})
      CHECK_THAT(sensor_refused(bridge + "adc = { " + (key == std::string("bits") ? "" : "bits = 12, ") + key + " = " +
                                part + ", reference = \"3.3 V\" }\n"),
                 Catch::Contains(std::string(key) + " must be a whole number, without tolerance or range."));
  CHECK_THAT(sensor_refused("at = \"t\"\nrange = \"1 bar\"\nadc = { bits = 12 }\n"),
             Catch::Contains("span = \"100 mV\"") && Catch::Contains("excitation = \"5 V\"") &&
                 Catch::Contains("reference = \"3.3 V\""));
  CHECK_THAT(sensor_refused(bridge + "amplifier = { gain = 3 }\n" + adc), Catch::Contains("needs 'kind'"));
  CHECK_THAT(sensor_refused(bridge + "amplifier = { kind = \"diference\", gain = 3 }\n" + adc),
             Catch::Contains("Did you mean \"difference\"?"));
  CHECK_THAT(sensor_refused(bridge +
                            "amplifier = { kind = \"instrumentation\", gain = 3, rail-low = \"2 V\", rail-high = "
                            "\"1 V\" }\n" +
                            adc),
             Catch::Contains("the lower rail must lie below the upper one"));
  CHECK_THAT(sensor_refused("at = \"t\"\nrange = \"1 bar\"\nspan = \"100 V\"\nexcitation = \"5 V\"\n" + adc),
             Catch::Contains("is outside 0.1 mV .. 10 V. Did you mean 100 mV?"));
}

TEST_CASE("a ready-made switch is read in SI", "[read][closed-form]") {
  const line::Sensor s = sensor_of(
      "at = \"t\"\naccuracy = \"1 kPa\"\nnoise = \"0.1 kPa\"\n"
      "switch = { on = \"45 +- 1 kPa\", hysteresis = \"20 mbar\", response = \"5 ms\" }");
  REQUIRE(s.ready_made);
  CHECK_THAT(s.ready_made->on.value, WithinRel(45e3, 1e-12));
  CHECK_THAT(s.ready_made->on.standard_deviation(), WithinRel(500.0, 1e-12));
  CHECK_THAT(s.ready_made->hysteresis.value, WithinRel(2e3, 1e-12));
  CHECK_THAT(s.ready_made->off(), WithinRel(43e3, 1e-12));
  CHECK_THAT(s.ready_made->response.value, WithinRel(5e-3, 1e-12));
  CHECK_THAT(s.noise.value, WithinRel(100.0, 1e-12));
  CHECK(sensor_of("at = \"t\"\nswitch = { on = \"45 kPa\", hysteresis = \"0 kPa\" }").ready_made->response.value ==
        0.0);
  CHECK_FALSE(sensor_of(bridge + adc).ready_made);
}

TEST_CASE("a switch takes nothing of a bridge, and its hysteresis is less than its set point", "[read][property]") {
  const std::string start = "at = \"t\"\n", ready = "switch = { on = \"45 kPa\", hysteresis = \"2 kPa\" }\n";
  const std::pair<std::string, std::string> keys[] = {{"range", "range = \"1 bar\""},
                                                      {"span", "span = \"1 V\""},
                                                      {"excitation", "excitation = \"5 V\""},
                                                      {"zero", "zero = \"1 mV\""},
                                                      {"resistance", "resistance = \"5 kohm\""},
                                                      {"vacuum", "vacuum = \"up\""},
                                                      {"amplifier", "amplifier = { kind = \"bare\" }"},
                                                      {"adc", "adc = { bits = 8 }"}};
  for (const auto& [key, text] : keys) {
    CAPTURE(key);
    CHECK(sensor_refused(start + ready + text) == "l.toml:5:" + std::to_string(key.size() + 4) +
                                                      ": sensor: a switch has no '" + key +
                                                      "'; leave it out, or 'switch', and a bridge is judged.");
  }
  CHECK_THAT(sensor_refused(start + "switch = { response = \"5 ms\" }"),
             Catch::Contains("needs 'switch.on'") && Catch::Contains("needs 'switch.hysteresis'"));
  for (const char* wide : {"45 kPa", "46 kPa", "44 +- 2 kPa"})
    CHECK_THAT(sensor_refused(start + "switch = { on = \"45 kPa\", hysteresis = \"" + wide + "\" }"),
               Catch::Contains("the hysteresis must be less than 'on'"));
  CHECK_THAT(sensor_refused(start + "switch = { on = \"45 kPa\", hysteresis = \"2 kPa\", response = \"11 s\" }"),
             Catch::Contains("is outside 0 s .. 10 s"));
  CHECK_THAT(sensor_refused(start + "switch = { on = \"45 kPa\", hysteresis = \"2 kPa\", delay = \"1 s\" }"),
             Catch::Contains("'switch.delay' is not a key of 'switch'"));
}
