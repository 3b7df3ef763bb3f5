// Each law at ends that a small line has, forty pressures below ambient in turn.
#include <benchmark/benchmark.h>

#include <string>
#include <vector>

#include "groups.hpp"
#include "laws/conductance.hpp"
#include "laws/duct.hpp"
#include "laws/passage.hpp"
#include "laws/pump_curve.hpp"
#include "laws/rated.hpp"
#include "laws/slot.hpp"

namespace airtally::bench {
namespace {

constexpr double ambient = 101325.0;

template <class Law>
void add(const std::string& name, double highest_vacuum, Law law) {
  const std::string path = "law/" + name + "/own";
  benchmark::RegisterBenchmark(path.c_str(), [=](benchmark::State& state) {
    double vacuum = 0.0, guess = 0.0;
    for (auto _ : state) {
      vacuum = vacuum < highest_vacuum ? vacuum + highest_vacuum / 40.0 : highest_vacuum / 40.0;
      benchmark::DoNotOptimize(law(laws::Ends(ambient, ambient - vacuum), guess));
    }
  });
}

}  // namespace

void register_laws() {
  const gas::Air air = gas::air_at(293.15);
  const auto duct = [air](double bore, double length) {
    return [air, law = laws::Duct{bore, length}](const laws::Ends& ends, double& guess) {
      const laws::Flow flow = laws::duct(law, ends, air, guess);
      guess = flow.m;
      return flow;
    };
  };
  add("duct, laminar", 20.0, duct(4e-3, 0.8));
  add("duct, turbulent", 20e3, duct(4e-3, 0.8));
  add("duct, choked", 90e3, duct(1e-3, 0.02));
  const auto passage = [air](const laws::Ends& ends, double& guess) {
    const laws::Flow flow = laws::passage({.bore = 1e-3, .length = 6e-3}, ends, air, guess);
    guess = flow.m;
    return flow;
  };
  add("passage", 30e3, passage);
  add("passage, choked", 90e3, passage);
  add("conductance", 30e3, [air](const laws::Ends& ends, double&) {
    return laws::conductance({0.3e-8, 0.35}, ends, air);
  });
  add("clearance", 60e3, [air](const laws::Ends& ends, double&) {
    return laws::clearance({.gap = 35e-6, .diameter = 5e-3, .length = 4e-3, .eccentricity = 0.5}, ends, air);
  });
  add("face gap", 60e3, [air](const laws::Ends& ends, double&) {
    return laws::face_gap({.gap = 4e-6, .inner = 0.5e-3, .outer = 0.9e-3}, ends, air);
  });
  add("pump", 70e3,
      [pump = laws::PumpCurve({{0.0, 1.6e-4}, {30e3, 9e-5}, {60e3, 2e-5}, {71e3, 0.0}}, {})](
          const laws::Ends& ends, double&) { return pump.at(ends.p2); });
}

}  // namespace airtally::bench
