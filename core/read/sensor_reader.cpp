#include <fmt/format.h>

#include <array>
#include <cmath>

#include "read/tables_private.hpp"

namespace airtally::read {
namespace {

// Wide enough for what is sold for such benches, narrow enough to catch a slip of the unit. Common practice, no source.
constexpr Limits range{Dimension::pressure, 100.0, 1e7, "0.1 kPa .. 10 MPa"};
constexpr Limits span{Dimension::voltage, 1e-4, 10.0, "0.1 mV .. 10 V", "100 mV"};
constexpr Limits excitation{Dimension::voltage, 0.1, 30.0, "0.1 V .. 30 V", "5 V"};
constexpr Limits zero_signal{Dimension::voltage, -5.0, 5.0, "-5 V .. 5 V"};
constexpr Limits resistance{Dimension::resistance, 1.0, 1e9, "1 ohm .. 1000 Mohm"};
constexpr Limits voltage_noise{Dimension::voltage, 0.0, 1.0, "0 V .. 1 V"};
constexpr Limits allowed{Dimension::number, 1e-12, 0.4, "0.000000000001 .. 0.4"};
constexpr Limits gain{Dimension::number, 1e-3, 1e5, "0.001 .. 100000"};
constexpr Limits tolerance{Dimension::number, 0.0, 0.3, "0 .. 0.3"};
constexpr Limits decibels{Dimension::number, 0.0, 200.0, "0 .. 200"};
constexpr Limits rail{Dimension::voltage, -50.0, 50.0, "-50 V .. 50 V"};
constexpr Limits bits{Dimension::number, 1.0, 32.0, "1 .. 32", "12"};
constexpr Limits reference{Dimension::voltage, 0.01, 50.0, "0.01 V .. 50 V", "3.3 V"};
constexpr Limits rate{Dimension::frequency, 0.01, 1e7, "0.01 Hz .. 10000 kHz"};
constexpr Limits average{Dimension::number, 1.0, 1e6, "1 .. 1000000"};
constexpr Limits set_point{Dimension::pressure, 100.0, 101325.0, "0.1 kPa .. 101.325 kPa", "45 kPa"};
constexpr Limits hysteresis{Dimension::pressure, 0.0, 101325.0, "0 kPa .. 101.325 kPa", "2 kPa"};
constexpr Limits response{Dimension::time, 0.0, 10.0, "0 s .. 10 s"};
constexpr Limits counts{Dimension::number, 0.0, 1e6, "0 .. 1000000"};

/// What is counted: half a bit is a slip.
void refuse_a_part(TableReader& table, std::string_view key, const Quantity& counted) {
  if (counted.is_exact() && counted.value == std::floor(counted.value)) return;
  table.complain(key, fmt::format("{} must be a whole number, without tolerance or range.", key));
}

void read_amplifier(TableReader& table, line::Sensor& sensor) {
  constexpr std::array<std::string_view, 4> kinds{"bare", "difference", "instrumentation", "converter"};
  line::Amplifier& a = sensor.amplifier;
  auto inside = table.table("amplifier");
  if (!inside) {
    if (!table.has("amplifier")) table.assume("amplifier not given: bare, the ADC reads the bridge itself");
    a.kind = line::FrontEnd::bare;
    return;
  }
  if (!inside->has("kind"))
    inside->complain_here("needs 'kind', one of \"bare\", \"difference\", \"instrumentation\" and \"converter\".");
  a.kind = static_cast<line::FrontEnd>(inside->choice("kind", kinds).value_or(0));
  if (a.kind == line::FrontEnd::bare) {
    inside->refuse_unknown_keys("a bare bridge");
    return;
  }
  a.gain = inside->needed("gain", gain);
  if (a.kind == line::FrontEnd::difference) {
    a.resistor_tolerance = inside->quantity_or("resistor-tolerance", tolerance, 0.01, "1 %");
    a.input_resistor = inside->quantity("input-resistor", resistance);
  }
  a.offset = inside->quantity_or("offset", voltage_noise, 0.0, "none");
  a.rejection = inside->quantity("rejection", decibels);
  a.noise = inside->quantity_or("noise", voltage_noise, 0.0, "none");
  if (a.kind != line::FrontEnd::converter) {
    a.bias = inside->quantity("bias", rail).value_or(Quantity(0.0));
    a.rail_low = inside->quantity("rail-low", rail);
    a.rail_high = inside->quantity("rail-high", rail);
    if (!a.rail_low || !a.rail_high) inside->assume("rail-low or rail-high not given: the output has no limit there");
    if (a.rail_low && a.rail_high && a.rail_low->high >= a.rail_high->low)
      inside->complain("rail-low", "the lower rail must lie below the upper one.");
  }
  inside->refuse_unknown_keys(fmt::format("{} amplifier", line::word(a.kind)));
}

void read_adc(TableReader& table, line::Sensor& sensor) {
  auto inside = table.table("adc");
  if (!inside) {
    if (!table.has("adc")) table.complain_here("needs 'adc', such as adc = { bits = 12, reference = \"3.3 V\" }.");
    return;
  }
  line::Adc& adc = sensor.adc;
  const bool converter = sensor.amplifier.kind == line::FrontEnd::converter;
  adc.bits = inside->needed("bits", bits);
  refuse_a_part(*inside, "bits", adc.bits);
  if (!converter) adc.reference = inside->needed("reference", reference);
  adc.rate = inside->quantity_or("rate", rate, 1000.0, "1 kHz");
  adc.average = inside->quantity_or("average", average, 1.0, "1, every reading decides by itself");
  refuse_a_part(*inside, "average", adc.average);
  adc.noise = inside->quantity_or("noise", counts, 0.0, "none beyond rounding");
  inside->refuse_unknown_keys(converter ? "a converter's 'adc'" : "'adc'");
}

/// What only a bridge behind an amplifier and an ADC has.
void read_bridge(TableReader& table, line::Sensor& sensor) {
  constexpr std::array<std::string_view, 2> directions{"up", "down"};
  sensor.range = table.needed("range", range);
  sensor.span = table.needed("span", span);
  sensor.excitation = table.needed("excitation", excitation);
  sensor.zero = table.quantity_or("zero", zero_signal, 0.0, "none");
  sensor.resistance = table.quantity_or("resistance", resistance, 5e3, "5 kohm");
  sensor.vacuum_raises = table.choice("vacuum", directions).value_or(0) == 0;
}

/// A ready-made switch, if there is one; it has nothing of a bridge.
void read_switch(TableReader& table, line::Sensor& sensor) {
  auto inside = table.table("switch");
  if (!table.has("switch")) return;
  line::VacuumSwitch& ready_made = sensor.ready_made.emplace();
  for (const std::string_view key :
       {"range", "span", "excitation", "zero", "resistance", "vacuum", "amplifier", "adc"}) {
    if (!table.has(key)) continue;
    table.know(key);
    table.complain(key, fmt::format("a switch has no '{}'; leave it out, or 'switch', and a bridge is judged.", key));
  }
  if (!inside) return;
  ready_made.on = inside->needed("on", set_point);
  ready_made.hysteresis = inside->needed("hysteresis", hysteresis);
  ready_made.response = inside->quantity_or("response", response, 0.0, "at once");
  if (inside->has("on") && inside->has("hysteresis") && ready_made.on.value > 0.0 &&
      ready_made.hysteresis.high >= ready_made.on.low)
    inside->complain("hysteresis",
                     "the hysteresis must be less than 'on', or the switch would stay on once it is, whatever the "
                     "vacuum.");
  inside->refuse_unknown_keys("'switch'");
}

}  // namespace

line::Sensor read_sensor(TableReader& table) {
  line::Sensor sensor;
  sensor.where = table.where();
  sensor.at_where = table.has("at") ? table.where("at") : table.where();
  sensor.at = table.text("at").value_or("");
  if (!table.has("at")) table.complain_here("needs 'at', the element at whose tip-side end it branches off.");
  if (auto tube = table.table("tube")) {
    line::Bore bore;
    bore.bore = tube->needed("bore", limits::bore);
    bore.length = tube->needed("length", limits::length);
    tube->refuse_unknown_keys("the sensor's tube");
    sensor.tube = bore;
  }
  sensor.volume = table.quantity_or("volume", limits::volume, 0.0, "none");
  read_switch(table, sensor);
  if (!sensor.ready_made) read_bridge(table, sensor);
  sensor.accuracy = table.quantity_or("accuracy", limits::reading, 0.0, "perfect");
  sensor.noise = table.quantity_or("noise", limits::reading, 0.0, "none");
  sensor.allowed = table.quantity_or("allowed", allowed, 1e-3, "1 wrong answer in 1000");
  if (!sensor.ready_made) {
    read_amplifier(table, sensor);
    read_adc(table, sensor);
  }
  table.refuse_unknown_keys("[sensor]");
  return sensor;
}

}  // namespace airtally::read
