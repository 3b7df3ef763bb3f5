// A program of a user's own: builds a line in code, solves it and ranks its elements. It is built against the installed
// library.
#include <airtally/airtally.hpp>
#include <airtally/version.hpp>
#include <cmath>
#include <iostream>

using namespace airtally;

int main() {
  line::Line bench{.title = "A pump, a hose that leaks, a nozzle"};
  const auto flow = [](const char* text) { return units::parse(text, units::Dimension::flow); };

  line::Element pump{.name = "pump", .kind = line::Kind::pump};
  pump.pump = line::Pump{.flow = {{0.0, flow("8 L/min")}, {71e3, flow("0 L/min")}}, .current = {}};
  line::Element hose{.name = "hose", .kind = line::Kind::tube, .restriction = line::Bore{2.5e-3, 0.8}};
  hose.leaks = {line::RatedLeak{.flow = flow("900 mL/min"), .at = 60e3}};
  line::Element nozzle{.name = "nozzle", .kind = line::Kind::nozzle, .restriction = line::Bore{1e-3, 6e-3}};
  bench.elements = {pump, hose, nozzle};

  const study::Ranking ranking = study::rank(bench, solve::all_tips(bench, solve::TipState::blocked));
  const study::ElementCost& worst = ranking.elements.front();
  std::cout << "airtally " << version << ": the " << bench.elements[worst.element].name << " costs the tip "
            << worst.fair_share / 1e3 << " of the " << ranking.total_loss / 1e3 << " kPa that it lacks\n";

  // The answer that the library promises: the leaking hose is the culprit, and the shares add up to the loss.
  double sum = 0.0;
  for (const study::ElementCost& cost : ranking.elements) sum += cost.fair_share;
  return bench.elements[worst.element].name == "hose" && std::abs(sum - ranking.total_loss) < 1e-6 ? 0 : 1;
}
