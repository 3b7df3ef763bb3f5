#include "hunt/rivals.hpp"

#include <algorithm>

#include "hunt/court_private.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {

std::vector<Rival> rivals_of(const Suspects& suspects, Evidence& evidence, const std::vector<Mode>& modes,
                             const std::vector<solve::TipState>& tips, std::size_t blamed) {
  TipCosts costs(suspects, tips);
  const Case its_case = case_of(suspects, evidence, costs, modes, blamed);
  const std::size_t n = suspects.line.elements.size();
  std::vector<Rival> tried(n);
  study::parallel(shares, study::processors(), [&](std::size_t share) {
    Evidence own = evidence.another();
    TipCosts own_costs(suspects, tips);
    Court court(its_case, own, own_costs);
    for (std::size_t i = share; i < n; i += shares)
      if (i != blamed) tried[i] = court.tried(i);
  });
  std::vector<Rival> rivals;
  for (Rival& rival : tried)
    if (rival.worse < parted && !rival.z.empty()) rivals.push_back(std::move(rival));
  std::sort(rivals.begin(), rivals.end(), [](const Rival& a, const Rival& b) { return a.worse < b.worse; });
  return rivals;
}

Beliefs with_rivals(const Beliefs& beliefs, const std::vector<Rival>& rivals) {
  // As many of each side, so that none is lost when the tests are screened on a part of them.
  const std::size_t each = Trial::draws_each * rivals.size(), count = std::min(each, beliefs.z.size());
  Beliefs all;
  const auto add = [&](const std::vector<double>& z, double weight, std::size_t worst) {
    all.z.push_back(z);
    all.weight.push_back(weight);
    all.costs.worst.push_back(worst);
  };
  double sum = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t s = i * beliefs.z.size() / count;
    add(beliefs.z[s], beliefs.weight[s], beliefs.costs.worst[s]);
    sum += beliefs.weight[s];
  }
  for (double& weight : all.weight) weight *= 0.5 / sum;
  for (const Rival& rival : rivals)
    for (const std::vector<double>& z : rival.draws) add(z, 0.5 / static_cast<double>(each), rival.element);
  return all;
}

void keep_blamed(NextTest& test, std::size_t blamed, const std::vector<Rival>& rivals) {
  for (const Rival& rival : rivals) test.rivals.push_back(rival.element);
  std::erase_if(test.information.outcomes, [&](const Outcome& outcome) { return outcome.element != blamed; });
  double likeliest = 0.0;
  for (const Outcome& outcome : test.information.outcomes) {
    if (outcome.chance <= likeliest) continue;
    likeliest = outcome.chance;
    test.dials.front().expected = 0.5 * (outcome.low + outcome.high);
  }
}

}  // namespace airtally::hunt
