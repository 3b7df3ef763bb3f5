// Any text as a line file: refused with complaints in order, or a line whose every state at rest is found.
#include "read/line_file.hpp"

#include <cmath>

#include "fuzz/target.hpp"
#include "line/line.hpp"
#include "line/topology.hpp"
#include "solve/answer.hpp"

using namespace airtally;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string file = "line.toml";
  line::Line line;
  try {
    line = read::read_line_text(fuzz::text(data, size), file);
    line::topology(line);
  } catch (const BadInput& refusal) {
    fuzz::demand_order(refusal, file);
    return 0;
  }
  for (const solve::TipState state : {solve::TipState::open, solve::TipState::part, solve::TipState::blocked}) {
    if (state == solve::TipState::part && !line.part) continue;
    const solve::SteadyAnswer answer = solve::steady(line, solve::all_tips(line, state));
    for (const solve::ElementState& e : answer.elements)
      fuzz::demand(std::isfinite(e.vacuum) && std::isfinite(e.flow) && std::isfinite(e.drop) && std::isfinite(e.leak),
                   "an answer is finite");
    fuzz::demand(answer.report.worst_balance <= solve::Steady::tolerance, "an answer balances");
  }
  return 0;
}
