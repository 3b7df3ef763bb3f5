#include <algorithm>
#include <cmath>

#include "hunt/beliefs/plate.hpp"
#include "hunt/judgement.hpp"
#include "hunt/propose_private.hpp"
#include "hunt/samples/normals_private.hpp"

// Whether going on is worth it, and what would make it so.

namespace airtally::hunt {

double doubt_of(const std::vector<Finding>& findings, const std::vector<std::size_t>& some) {
  double all = 0.0, sum = 0.0;
  for (const Finding& finding : findings) {
    const double p = finding.worst_probability;
    if (!(p > 0.0) || (!some.empty() && std::find(some.begin(), some.end(), finding.element) == some.end())) continue;
    all += p;
    sum -= p * std::log2(p);
  }
  return all > 0.0 ? sum / all + std::log2(all) : 0.0;
}

bool worth_making(double bits, double doubt) {
  return bits >= std::max(least_worth, worth_of_doubt * std::min(1.0, doubt));
}

bool puts_on(const Hunt& hunt, const NextTest& test) {
  const Finding& first = hunt.elements.front();
  if (!first.only_prior || test.setting.hole > 0.0) return false;
  const std::vector<solve::TipState>& tips = test.setting.tips;
  const bool whole =
      !test.setting.cap && test.setting.off.empty() &&
      std::count(tips.begin(), tips.end(), solve::TipState::blocked) == static_cast<std::ptrdiff_t>(tips.size());
  return whole || test.setting.cap == first.element;
}

bool further_test(const Hunt& hunt) {
  if (hunt.next.empty()) return false;
  if (!hunt.rivals.empty()) return hunt.parts;
  // Likely by the file alone is no verdict, however little doubt there is.
  if (puts_on(hunt, hunt.next.front())) return true;
  // Of what may hide, and before the first reading, there is no telling how likely it is.
  const bool whole = hunt.prior_only || !hunt.hidden.empty() || still_among(hunt) || in_its_place(hunt);
  return worth_making(hunt.next.front().information.bits, whole ? 1.0 : doubt_of(hunt.elements));
}

bool tells_little(const Hunt& hunt) {
  constexpr double little = 0.25;
  if (hunt.prior_only || hunt.next.empty() || !hunt.rivals.empty()) return false;
  return hunt.next.front().information.bits < little * std::min(1.0, doubt_of(hunt.elements));
}

std::optional<NextTest> with_plug_gauge(const line::Line& line, const Found& found, const HuntOptions& options,
                                        Hunt result) {
  const auto loose = [](const auto& instrument) { return instrument == Instrument::plugged; };
  const bool not_to_be_had = std::any_of(options.without.begin(), options.without.end(),
                                         [&](const auto& missing) { return loose(missing.first); });
  if (found.readings.bench.plug_gauge || not_to_be_had) return std::nullopt;
  constexpr double more = 2.0;
  const double without = further_test(result) ? result.next.front().information.bits : 0.0;
  Readings readings = found.readings;
  readings.bench.plug_gauge = Meter{};
  const Suspects all = suspects(line, readings.bench, plates_of(readings.list));
  Evidence evidence(all, found.evidence.readings(), readings.bench);
  Found then = {all,           evidence,     readings,     found.modes,  found.tips,
                found.beliefs, found.rivals, found.hidden, found.instead};
  // No reading was made with it, so its error, the last of the unknowns, is as it was believed to be.
  Normals normals(1);
  const auto with_its_error = [&](std::vector<double>& z, bool drawn) { z.push_back(drawn ? normals.normal() : 0.0); };
  for (Mode& mode : then.modes) with_its_error(mode.z, false);
  for (std::vector<double>& z : then.beliefs.z) with_its_error(z, true);
  for (Instead& one : then.instead) {
    with_its_error(one.rival.z, false);
    for (std::vector<double>& z : one.rival.draws) with_its_error(z, true);
  }
  for (std::vector<Rival>* rivals : {&then.rivals, &then.hidden})
    for (Rival& rival : *rivals) {
      with_its_error(rival.z, false);
      for (std::vector<double>& z : rival.draws) with_its_error(z, true);
    }
  result.look_alikes.clear();
  propose(then, options, result);
  // Who is to fetch another gauge for it wants to be told more than a little.
  if (!further_test(result) || tells_little(result)) return std::nullopt;
  NextTest& test = result.next.front();
  if (test.information.bits < more * without) return std::nullopt;
  return std::any_of(test.dials.begin(), test.dials.end(), [&](const Dial& dial) { return loose(dial.instrument); })
             ? std::optional(std::move(test))
             : std::nullopt;
}

}  // namespace airtally::hunt
