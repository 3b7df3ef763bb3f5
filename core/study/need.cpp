#include "study/need.hpp"

#include <algorithm>

#include "errors.hpp"
#include "study/first_of.hpp"
#include "study/hold.hpp"

namespace airtally::study {
namespace {

std::vector<double> spares(const solve::SteadyAnswer& answer, std::span<const double> needs) {
  if (answer.tips.empty()) throw DomainError("The weakest vacuum is asked of a line that has no tip.");
  std::vector<double> all;
  all.reserve(answer.tips.size());
  for (std::size_t k = 0; k < answer.tips.size(); ++k)
    all.push_back(answer.tips[k].tip_vacuum() - (needs.empty() ? 0.0 : needs[k]));
  return all;
}

}  // namespace

std::vector<double> needs_of_moves(const line::Line& line) {
  std::vector<double> needs;
  for (const std::size_t nozzle : line::all_of(line, line::Kind::nozzle))
    needs.push_back(needed_vacuum(line, nozzle).to_travel);
  return needs;
}

std::size_t weakest_tip(const solve::SteadyAnswer& answer, std::span<const double> needs) {
  return first_least(
      spares(answer, needs), [](double spare) { return spare; }, pressure_tie);
}

double least_spare(const solve::SteadyAnswer& answer, std::span<const double> needs) {
  const std::vector<double> all = spares(answer, needs);
  return *std::min_element(all.begin(), all.end());
}

double weakest_vacuum(const solve::SteadyAnswer& answer) { return least_spare(answer, {}); }

}  // namespace airtally::study
