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
