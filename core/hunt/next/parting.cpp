#include "hunt/next/parting.hpp"

#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "hunt/beliefs/plate.hpp"
#include "hunt/verdict/court_private.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

/// What a test would make of the rivals.
struct Parting {
  std::size_t left;   ///< how many it would not part
  double most = 0.0;  ///< that it would speak against any of these, beyond the readings so far [-, chi-square]

  bool operator<(const Parting& other) const {
    return left != other.left ? left < other.left : left > 0 && most > other.most;
  }
};

constexpr double speaks = 1.0;  ///< chi-square: a standard deviation
constexpr double tells = 0.25;  ///< bits, of one: whether it is the blamed or any rival

/// Whether a test would only read again what was read in the same setting: by the misfit that a rival had then it would
/// seem to speak against that once more.
bool again(const NextTest& test, const std::vector<Reading>& readings) {
  return std::all_of(test.dials.begin(), test.dials.end(), [&](const Dial& dial) {
    return std::any_of(readings.begin(), readings.end(), [&](const Reading& reading) {
      return reading.setting == test.setting && reading.instrument == dial.instrument && reading.at == dial.at;
    });
  });
}

/// The readings so far, and those of a test as the state `z` of the line gives them.
std::vector<Reading> with_expected(const Suspects& suspects, const Evidence& evidence, const Bench& bench,
                                   const NextTest& test, const std::vector<double>& z) {
  std::vector<Reading> all = evidence.readings();
  for (std::size_t i = 0; i < all.size(); ++i) all[i].noise = evidence.noise()[i];
  Rig rig(suspects, line::topology(suspects.line), test.setting);
  const std::vector<double> values = suspects.values(z);
  rig.solve(values);
  const std::size_t first = all.size();
  for (const Dial& dial : test.dials)
    all.push_back({test.setting,
                   dial.instrument,
                   dial.at,
                   rig.read(dial.instrument, dial.at, values),
                   meter_at(suspects.line, bench, dial.instrument, dial.at).noise(),
                   {}});
  if (!rig.has_new_plate()) return all;
  // None of the unknowns is what that plate lets through: a reading is as good as that is known.
  rig.set_new_plate(plate_prior(bench).at(1.0));
  rig.solve(values);
  for (std::size_t i = first; i < all.size(); ++i)
    all[i].noise = std::hypot(all[i].noise, rig.read(all[i].instrument, all[i].at, values) - all[i].value);
  return all;
}

}  // namespace

bool put_parting_first(const Suspects& suspects, Evidence& evidence, const Bench& bench, const std::vector<Mode>& modes,
                       const std::vector<solve::TipState>& tips, std::size_t blamed, const std::vector<Rival>& rivals,
                       std::vector<NextTest>& tests) {
  TipCosts costs(suspects, tips);
  const Case its_case = case_of(suspects, evidence, costs, modes, blamed);
  if (tests.empty()) return false;
  std::vector<Parting> parting(tests.size(), Parting{rivals.size()});
  const auto try_one = [&](std::size_t t) {
    try {
      Evidence then(suspects, with_expected(suspects, evidence, bench, tests[t], its_case.best.x), bench);
      TipCosts own_costs(suspects, tips);
      Court court(its_case, then, own_costs);
      Parting then_left{0};
      for (const Rival& rival : rivals) {
        const double worse = court.tried(rival.element).worse;
        then_left.left += worse < parted || worse - rival.worse < speaks;  // one near that limit is not its doing
        then_left.most = std::max(then_left.most, worse - rival.worse);
      }
      if (again(tests[t], evidence.readings())) then_left.most = 0.0;  // of use only where it parts one after all
      parting[t] = then_left;
    } catch (const NoConvergence&) {  // a setting that can't be foretold parts no one
    } catch (const DomainError&) {
    }
  };
  std::size_t tried = 0;
  const auto best = [&] { return std::min_element(parting.begin(), parting.end()); };
  const std::size_t most = std::min(tests.size(), finalists);
  while (tried < most) {
    if (best()->left == 0) break;
    const std::size_t count = std::min(shares, most - tried);
    study::parallel(count, study::processors(), [&](std::size_t i) { try_one(tried + i); });
    tried += count;
  }
  const auto put_first = [&](auto first) { std::rotate(tests.begin(), first, first + 1); };
  if (best()->left < rivals.size() || best()->most > speaks) {
    put_first(tests.begin() + (best() - parting.begin()));
    return true;
  }
  // What the line would show as the blamed's fault is best taken to be parts no one; but it need not be just that.
  const auto telling = std::find_if(tests.begin(), tests.end(), [&](const NextTest& test) {
    return test.information.bits >= tells && !again(test, evidence.readings());
  });
  if (telling == tests.end()) return false;
  put_first(telling);
  return true;
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
    for (const std::vector<double>& z : rival.draws)
      add(z, 0.5 / static_cast<double>(rivals.size() * rival.draws.size()), rival.element);
  return all;
}

void keep_blamed(NextTest& test, std::size_t blamed, const std::vector<Rival>& rivals) {
  for (const Rival& rival : rivals) test.rivals.push_back(rival.element);
  std::erase_if(test.information.outcomes, [&](const Outcome& outcome) { return outcome.element != blamed; });
  double likeliest = 0.0;
  for (const Outcome& outcome : test.information.outcomes) {
    if (outcome.chance <= likeliest) continue;
    likeliest = outcome.chance;
    test.dials.front().expected = outcome.mean;
  }
}

}  // namespace airtally::hunt
