#include "hunt/judgement.hpp"

#include <algorithm>
#include <cmath>

#include "hunt/beliefs/priors.hpp"

namespace airtally::hunt {
namespace {

constexpr double agreed = 0.8;  ///< chance that each population must give the verdict

/// The reading that is off what the file has by the largest share of it, if any is.
std::optional<std::size_t> farthest(const Hunt& hunt, double Compared::*off) {
  std::optional<std::size_t> most;
  double share = 0.0;
  for (std::size_t i = 0; i < hunt.readings.size(); ++i) {
    const Compared& one = hunt.readings[i];
    const double own = one.*off / std::max(std::fabs(one.filed), 1e-12);
    if (own > share) most = i, share = own;
  }
  return most;
}

}  // namespace

std::vector<std::size_t> like(const Hunt& hunt, std::size_t element) {
  for (const std::vector<std::size_t>& group : hunt.alike)
    if (std::find(group.begin(), group.end(), element) != group.end()) return group;
  return {element};
}

std::vector<Finding> amiss(const Hunt& hunt) {
  std::vector<Finding> all;
  for (const Finding& finding : hunt.elements)
    if (finding.amiss >= enough_for_verdict ||
        (finding.open_fraction && finding.open_fraction->high < shut * finding.filed_open))
      all.push_back(finding);
  std::stable_sort(all.begin(), all.end(),
                   [](const Finding& a, const Finding& b) { return a.excess.median > b.excess.median; });
  return all;
}

bool off_file(const Hunt& hunt, const Finding& finding) {
  constexpr double several = 3.0, most_open = 0.8;
  if (hunt.prior_only || finding.only_prior) return false;
  for (const Nuisance& n : hunt.others) {
    const bool wear = n.unknown.what == What::pump_flow || n.unknown.what == What::pump_vacuum;
    if (wear && n.unknown.element == finding.element && n.value.high < most_open * n.unknown.filed()) return true;
  }
  return finding.leak.low > several * finding.filed_leak || poor_seal(hunt, finding.element) ||
         (finding.open_fraction && finding.open_fraction->high < most_open * finding.filed_open);
}

std::optional<std::size_t> missed(const Hunt& hunt) { return farthest(hunt, &Compared::missed); }

std::optional<std::size_t> spared(const Hunt& hunt) { return farthest(hunt, &Compared::spare); }

bool better_than_filed(const line::Line& line, const Finding& finding) {
  constexpr double half = 0.5;
  const line::Element& element = line.elements[finding.element];
  if (element.leaks.empty() || leak_prior(element).shape == Prior::Shape::range || finding.only_prior) return false;
  return finding.leak.high < half * finding.filed_leak;
}

const Nuisance* poor_seal(const Hunt& hunt, std::size_t element) {
  constexpr double poor = 2.0;
  if (hunt.prior_only) return nullptr;
  for (const Nuisance& n : hunt.others)
    if (n.unknown.what == What::seal && n.unknown.element == element && n.value.low > poor * n.unknown.filed())
      return &n;
  return nullptr;
}

bool nothing_much(const Hunt& hunt) { return hunt.elements.front().cost.high < notable * hunt.tip_vacuum; }

bool in_its_place(const Hunt& hunt) {
  return std::any_of(hunt.elements.begin(), hunt.elements.end(),
                     [](const Finding& finding) { return finding.instead.has_value(); });
}

bool still_among(const Hunt& hunt) { return verdict(hunt) == Verdict::sure && hunt.amiss_among.size() > 1; }

Verdict verdict(const Hunt& hunt) {
  const Finding& first = hunt.elements.front();
  if (hunt.prior_only || first.only_prior || first.worst_probability < enough_for_verdict) return Verdict::unsure;
  if (hunt.quality.chance < unbelievable) return Verdict::unexplained;
  if (hunt.effective < fewest_for_verdict || hunt.agreement < agreed) return Verdict::unsettled;
  return hunt.rivals.empty() ? Verdict::sure : Verdict::rivalled;
}

}  // namespace airtally::hunt
