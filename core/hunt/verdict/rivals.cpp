#include "hunt/verdict/rivals.hpp"

#include <algorithm>

#include "hunt/verdict/court_private.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {

std::vector<Rival> rivals_of(const Suspects& suspects, Evidence& evidence, const std::vector<Mode>& modes,
                             const std::vector<solve::TipState>& tips, std::size_t blamed, bool only_beside) {
  TipCosts costs(suspects, tips);
  const Case its_case = case_of(suspects, evidence, costs, modes, blamed);
  const std::size_t n = suspects.line.elements.size();
  std::vector<Rival> tried(n);
  study::parallel(shares, study::processors(), [&](std::size_t share) {
    Evidence own = evidence.another();
    TipCosts own_costs(suspects, tips);
    Court court(its_case, own, own_costs);
    for (std::size_t i = share; i < n; i += shares)
      if (i != blamed) tried[i] = only_beside ? court.tried_beside(i) : court.tried(i);
  });
  std::vector<Rival> rivals;
  for (Rival& rival : tried)
    if (rival.worse < parted && !rival.z.empty()) rivals.push_back(std::move(rival));
  std::sort(rivals.begin(), rivals.end(), [](const Rival& a, const Rival& b) { return a.worse < b.worse; });
  return rivals;
}

}  // namespace airtally::hunt
