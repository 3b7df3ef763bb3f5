#include <fmt/format.h>

#include <algorithm>

#include "hunt/judgement.hpp"
#include "report/hunt_amiss_private.hpp"
#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

// What to do after a verdict.

namespace airtally::report {

using hunt::Finding;
using hunt::Hunt;

bool by_design(const Hunt& hunt) {
  const Finding& first = hunt.elements.front();
  const bool among =
      std::find(hunt.amiss_among.begin(), hunt.amiss_among.end(), first.element) != hunt.amiss_among.end();
  return first.amiss < 0.5 && !among && !hunt::off_file(hunt, first);
}

bool too_strong(const Hunt& hunt) {
  return std::any_of(hunt.others.begin(), hunt.others.end(), [](const hunt::Nuisance& n) {
    return n.unknown.what == hunt::What::pump_flow && n.value.low > no_pump;
  });
}

bool seal_alone(const Hunt& hunt, const Finding& finding) {
  const bool narrow = finding.open_fraction && finding.open_fraction->high < clear * finding.filed_open;
  return hunt::poor_seal(hunt, finding.element) != nullptr && !(finding.leak.low > finding.filed_leak) && !narrow;
}

std::vector<Finding> told(const Hunt& hunt) {
  const hunt::Verdict verdict = hunt::verdict(hunt);
  if (hunt.prior_only || hunt.quality.bad || verdict == hunt::Verdict::unsettled) return {};
  std::vector<Finding> all = hunt::amiss(hunt);
  std::erase_if(all, [&](const Finding& finding) {
    if (too_strong(hunt)) return finding.element != hunt.elements.front().element;
    return verdict == hunt::Verdict::rivalled &&
           (finding.element == hunt.elements.front().element ||
            std::find(hunt.rivals.begin(), hunt.rivals.end(), finding.element) != hunt.rivals.end());
  });
  return all;
}

std::string what_to_mend(const line::Line& line, const Hunt& hunt) {
  const std::string worst = the(line.elements[hunt.elements.front().element]);
  std::vector<std::string> wrong, seals, among, instead;
  for (const Finding& finding : told(hunt)) {
    (seal_alone(hunt, finding) ? seals : wrong).push_back(the(line.elements[finding.element]));
    if (finding.instead) instead.push_back(the(line.elements[*finding.instead]));
  }
  if (!too_strong(hunt)) among = names(line, hunt, hunt.amiss_among);
  const std::string design =
      by_design(hunt) ? fmt::format(" {} costs more but is as the file has it: only another design gains that.",
                                    The(line.elements[hunt.elements.front().element]))
                      : "";
  std::string text;
  if (!seals.empty())
    text = fmt::format(
        "See to how the part sits on {}: dirt under it, a chip in the rim, a part that is not flat there. Nothing in "
        "the line mends that.",
        listed(seals));
  if (!wrong.empty())
    text += fmt::format("{}Mend or replace {}{}.", text.empty() ? "" : " ", listed(wrong),
                        instead.empty() ? "" : ", or see first that it is not " + listed(instead));
  if (among.size() == 1 && told_as_one(hunt, hunt.amiss_among.front()).size() == 1)
    text += (text.empty() ? capital(among.front()) : " Besides, " + among.front()) +
            " is not as the file has it: put a good one in its place, and see what the tip gains.";
  else if (!among.empty())
    text += fmt::format(
        "{} of these is not as the file has it, the likeliest first: {}. Put a good one in the place of one after the "
        "other, and see what the tip gains.",
        text.empty() ? "One" : " Besides, one", listed(among));
  if (!text.empty()) return text + design;
  if (by_design(hunt))
    return fmt::format(
        "There is nothing to mend: {} is as the file has it, and only another design gains what it costs.", worst);
  return fmt::format("Mend or replace {}.", worst);
}

}  // namespace airtally::report
