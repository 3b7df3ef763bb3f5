// A line described in code, solved and ranked.
#include <airtally/airtally.hpp>
#include <iostream>

int main() {
  using namespace airtally;
  const line::Line bench = line::Builder("A bench")
                               .pump("pump", {{"0 kPa", "8 L/min"}, {"71 kPa", "0 L/min"}})
                               .tube("hose", "2.5 mm", "0.8 m")
                               .leak_rated("900 mL/min", "60 kPa")
                               .nozzle("nozzle", "1 mm", "6 mm", "1.8 mm")
                               .build();
  const auto tips = solve::all_tips(bench, solve::TipState::blocked);
  std::cout << "tip: " << units::show(solve::steady(bench, tips).tips.front().mouth_vacuum, "kPa", 1) << '\n';
  for (const study::ElementCost& cost : study::rank(bench, tips).elements)
    std::cout << bench.elements[cost.element].name << " costs it " << units::show(cost.fair_share, "kPa", 1) << '\n';
}
