#pragma once
#include <string>
#include <vector>

#include "hunt/fit/forward.hpp"
#include "read/line_file.hpp"
#include "solve/answer.hpp"

/// A small line for the tests of the hunt, and readings made from it.
namespace airtally::tests {

inline line::Line bench_line(const std::string& current = "") {
  return read::read_line_text(R"(format = 1
title = "bench"
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "8 L/min"], ["30 kPa", "4.6 L/min"], ["60 kPa", "1.1 L/min"], ["71 kPa", "0 L/min"]]
)" + current + R"(
[[element]]
name = "hose"
kind = "tube"
bore = "4 mm"
length = "0.8 m"
[[element]]
name = "tee"
kind = "tee"
gauge = { accuracy = "0.5 kPa", resolution = "0.1 kPa" }
[[element]]
name = "filter"
kind = "filter"
rated = { flow = "6 L/min", drop = "2 kPa" }
[[element]]
name = "joint"
kind = "rotary"
bore = "2 mm"
length = "22 mm"
leak = { clearance = "20 um", diameter = "5 mm", length = "4 mm" }
[[element]]
name = "nozzle"
kind = "nozzle"
bore = "1 mm"
length = "6 mm"
rim = "1.8 mm"
[part]
mass = "12 mg"
gap = "6 um"
)",
                              "bench.toml");
}

/// A pump, a gauge, and two hoses with a nozzle each.
inline line::Line two_nozzles() {
  std::string text = R"(format = 1
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "8 L/min"], ["30 kPa", "4.6 L/min"], ["60 kPa", "1.1 L/min"], ["71 kPa", "0 L/min"]]
[[element]]
name = "tee"
kind = "tee"
gauge = { accuracy = "0.5 kPa", resolution = "0.1 kPa" }
)";
  for (const char* name : {"one", "two"})
    text += std::string("[[element]]\nname = \"hose ") + name +
            "\"\nkind = \"tube\"\nafter = \"tee\"\nbore = \"4 mm\"\n" +
            "length = \"0.3 m\"\nleak = { rated = \"5 mL/min\", at = \"60 kPa\" }\n" + "[[element]]\nname = \"nozzle " +
            name + "\"\nkind = \"nozzle\"\nbore = \"1 mm\"\nlength = \"6 mm\"\nrim = \"1.8 mm\"\n";
  return read::read_line_text(text, "two.toml");
}

/// A reading of the tee's gauge with the line capped at `cap`.
inline hunt::Reading capped(const line::Line& line, const std::string& cap, double vacuum = 0.0,
                            const std::string& at = "tee") {
  hunt::Reading reading;
  reading.setting = {*line::find(line, cap), 0.0, solve::usual_tips(line)};
  reading.at = *line::find(line, at);
  reading.value = vacuum;
  return reading;
}

/// The z of one unknown set, all others healthy.
inline std::vector<double> with(const hunt::Suspects& suspects, hunt::What what, std::size_t element, double value) {
  std::vector<double> z(suspects.unknowns.size(), 0.0);
  for (std::size_t k = 0; k < z.size(); ++k)
    if (suspects.unknowns[k].what == what && suspects.unknowns[k].element == element)
      z[k] = suspects.unknowns[k].prior.z_of(value);
  return z;
}

}  // namespace airtally::tests
