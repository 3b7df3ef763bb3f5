#pragma once
#include <algorithm>
#include <cmath>
#include <numbers>

#include "study/cycle.hpp"
#include "support/lines.hpp"

/// Lines and readings that the tests of a pick share.
namespace airtally::test {

inline constexpr double area = std::numbers::pi * 0.25e-6;  // of a 1 mm bore
inline constexpr double gravity = 9.80665;

/// A mass whose bare weight asks for `vacuum` [Pa] under a 1 mm bore; to lift it asks for twice that.
inline double mass_for(double vacuum) { return vacuum * area / gravity; }

/// A strong pump holding a litre, then a valve, ten millilitres and a 1 mm nozzle that seals perfectly.
inline line::Line single_volume(double needed_at_rest) {
  support::Builder b;
  b.pump("pump", {{0.0, 60.0}, {98e3, 0.0}}).reservoir("store", 1e-3);
  b.valve("valve", 0.1, 0.3).vent(0.1).tee("chamber", 10e-6).gauge();
  b.nozzle("nozzle", 1e-3, 1e-3, 1.8e-3);
  b.part(mass_for(needed_at_rest), 0.0);
  b.line.elements[2].valve->vent->path.critical_ratio = 0.3;
  b.line.cycle.emplace();
  line::Cycle& cycle = *b.line.cycle;
  cycle.touch = 10e-3;
  cycle.valve_on = 20e-3;
  cycle.place = 0.4;
  cycle.retract = 0.8;
  return b.line;
}

/// Two heads on one small pump; the second works `delay` later.
inline line::Line two_heads(double delay) {
  support::Builder b;
  b.pump("pump", {{0.0, 8.0}, {71e3, 0.0}}, 6e-6).tee("tee", 1e-6).gauge();
  for (const char* n : {"1", "2"}) {
    b.valve(std::string("valve ") + n, 0.3).after("tee").vent(0.25);
    b.tube(std::string("hose ") + n, 2.5e-3, 0.3).nozzle(std::string("nozzle ") + n, 1e-3, 6e-3, 1.8e-3);
  }
  b.part(20e-6, 4e-6);
  b.line.cycle.emplace();
  line::Cycle& cycle = *b.line.cycle;
  cycle.valve_on = 10e-3;
  cycle.touch = 60e-3;
  cycle.place = 0.4;
  cycle.retract = 0.6;
  cycle.heads.push_back({"nozzle 2", delay, {}});
  return b.line;
}

inline study::CycleOptions quick(solve::Thermal thermal = solve::Thermal::isothermal) {
  study::CycleOptions options;
  options.thermal = thermal;
  options.limits = false;
  return options;
}

/// Vacuum at place `k` of the answer at the sample nearest to `time`.
inline double vacuum_at(const study::CycleAnswer& answer, std::size_t k, double time) {
  const auto nearest = std::min_element(
      answer.samples.begin(), answer.samples.end(),
      [&](const auto& a, const auto& b) { return std::fabs(a.time - time) < std::fabs(b.time - time); });
  return nearest->vacuum.at(k);
}

}  // namespace airtally::test
