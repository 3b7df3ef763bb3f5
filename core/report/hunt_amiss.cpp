#include <fmt/format.h>

#include <algorithm>

#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

using hunt::Finding;
using hunt::Hunt;

constexpr double no_fault = 0.05;  ///< chance of being worse than filed below which it isn't
constexpr double clear = 0.95;     ///< open fraction from which on a way is as the file has it

/// What is wrong with it, as far as the readings tell by which: a leak, a narrow way and wear may stand for each other.
std::string how(const Hunt& hunt, const Finding& finding) {
  std::vector<std::string> all;
  if (finding.leak.low > finding.filed_leak)
    all.push_back(fmt::format("leaks {}, where the file has {}", flow(finding.leak.median), flow(finding.filed_leak)));
  if (finding.open_fraction && finding.open_fraction->high < clear)
    all.push_back(fmt::format("{} of its bore open", percent(finding.open_fraction->median)));
  for (const hunt::Nuisance& n : hunt.others) {
    const bool flow = n.unknown.what == hunt::What::pump_flow, vacuum = n.unknown.what == hunt::What::pump_vacuum;
    if (n.unknown.element != finding.element || !(flow || vacuum) || !(n.value.high < clear)) continue;
    all.push_back(fmt::format("{} of its curve's {}", percent(n.value.median), flow ? "flow" : "vacuum"));
  }
  return all.empty() ? "" : " (" + listed(all) + ")";
}

}  // namespace

std::string not_as_filed(const line::Line& line, const Hunt& hunt, const Look& look) {
  if (hunt.prior_only) return "";
  const std::vector<Finding> all = hunt::amiss(hunt);
  const Finding& first = hunt.elements.front();
  std::string text;
  if (hunt::verdict(hunt) == hunt::Verdict::sure && first.amiss < 0.5)
    text = fmt::format(" The file has {} {}so: {}.", the(line.elements[first.element]),
                       first.amiss < no_fault ? "" : "about ",
                       first.amiss < no_fault ? "that is its design and no fault" : "rather its design than a fault");
  if (all.empty()) return text;
  for (const Finding& finding : all) {
    text += (&finding == &all.front() ? " Worse than the file has it: " : "; ") + the(line.elements[finding.element]);
    if (finding.excess.median > 0.0) text += ", by " + vacuum(look, finding.excess.median);
    text += how(hunt, finding);
  }
  return text + ".";
}

std::string what_to_mend(const line::Line& line, const Hunt& hunt) {
  const Finding& first = hunt.elements.front();
  const std::string worst = the(line.elements[first.element]);
  std::vector<std::string> wrong;
  for (const Finding& finding : hunt::amiss(hunt)) wrong.push_back(the(line.elements[finding.element]));
  const bool by_design = first.amiss < 0.5;
  if (wrong.empty() && by_design)
    return fmt::format(
        "There is nothing to mend: {} is as the file has it, and only another design gains what it costs.", worst);
  if (wrong.empty()) return fmt::format("Mend or replace {}.", worst);
  return fmt::format("Mend or replace {}.", listed(wrong)) +
         (by_design ? fmt::format(" {} costs more but is as the file has it: only another design gains that.",
                                  The(line.elements[first.element]))
                    : "");
}

std::string wear_sentence(const line::Line& line, const Hunt& hunt) {
  std::string text;
  const auto range = [](const hunt::Interval& value) {
    return fmt::format("{:.0f} % ({:.0f} to {:.0f})", 100.0 * value.median, 100.0 * value.low, 100.0 * value.high);
  };
  for (const hunt::Nuisance& n : hunt.others) {
    if (n.unknown.what != hunt::What::pump_flow) continue;
    text += fmt::format("{} has {} of its curve's flow", The(line.elements[n.unknown.element]), range(n.value));
    for (const hunt::Nuisance& v : hunt.others)
      if (v.unknown.what == hunt::What::pump_vacuum && v.unknown.element == n.unknown.element)
        text += fmt::format(" and {} of its vacuum", range(v.value));
    text += ". ";
  }
  if (!text.empty()) text.pop_back();
  return text;
}

}  // namespace airtally::report
