#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hunt/beliefs/priors.hpp"
#include "hunt/judgement.hpp"
#include "hunt/verdict/as_gap.hpp"
#include "report/hunt_amiss_private.hpp"
#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/plain_number.hpp"
#include "report/said_in.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

using hunt::Finding;
using hunt::Hunt;

constexpr double no_fault = 0.05;  ///< chance of being worse than filed below which it isn't

/// Whether a leak that has grown behaves as a hole or as a gap, where the readings tell: by how much it draws where the
/// vacuum is little.
std::string as_what(const Hunt& hunt, const Finding& finding) {
  constexpr double grown = 10.0, mostly = 0.6;
  if (!(finding.leak.low > grown * finding.filed_leak)) return "";
  for (const hunt::Nuisance& n : hunt.others) {
    if (n.unknown.what != hunt::What::hole_share) continue;
    if (n.value.low > mostly) return " as an open hole does";
    if (n.value.high < 1.0 - mostly) return " as a fine gap does";
  }
  return "";
}

/// How freely a part that does not seal lets in air: as what gap, by the law of such gaps.
std::string how_freely(const line::Line& line, const Hunt& hunt, const hunt::Nuisance& seal) {
  const double vacuum = std::max(hunt.tip_vacuum, 1e3);
  const auto wide = [&](double factor) { return 1e6 * hunt::as_gap(line, seal.unknown.element, factor, vacuum); };
  const auto gap = [&](double factor) { return plain_number(wide(factor), 2); };
  if (!(wide(1.0) > 0.0)) return fmt::format("{:.1f} times as freely as the file has it", seal.value.median);
  return fmt::format("as through a gap of {} um ({} to {}), where the file has {} um", gap(seal.value.median),
                     gap(seal.value.low), gap(seal.value.high), gap(seal.unknown.prior.ends().second));
}

/// At what vacuum leaks are compared, after a space, where the file has that of the element at another: "at 60 kPa".
std::string at_what_vacuum(const line::Line& line, const line::Element& element) {
  const double vacuum = hunt::leak_vacuum(line.site);
  const auto as_rated = [vacuum](const line::Leak& leak) {
    const auto* rated = std::get_if<line::RatedLeak>(&leak);
    return rated != nullptr && rated->at.value == vacuum;
  };
  if (std::all_of(element.leaks.begin(), element.leaks.end(), as_rated)) return "";
  return fmt::format(" at {:.0f} kPa", 1e-3 * vacuum);
}

/// What is wrong with it, as far as the readings tell by which: a leak, a narrow way and wear may stand for each other.
std::string how(const line::Line& line, const Hunt& hunt, const Finding& finding) {
  std::vector<std::string> all;
  for (const hunt::Nuisance& n : hunt.others) {
    const bool flow = n.unknown.what == hunt::What::pump_flow, vacuum = n.unknown.what == hunt::What::pump_vacuum;
    if (n.unknown.element != finding.element || !(flow || vacuum) || !(n.value.high < clear * n.unknown.filed()))
      continue;
    all.push_back(fmt::format("{} of its curve's {}", percent(n.value.median), flow ? "flow" : "vacuum"));
  }
  if (finding.leak.low > finding.filed_leak) {
    const line::Element& element = line.elements[finding.element];
    const std::string_view filed = element.leaks.empty() ? "a sound one has about" : "the file has";
    // Of a range what it is compared with is the most, finding.filed_leak.
    const bool ranged = !element.leaks.empty() && hunt::leak_prior(element).shape == hunt::Prior::Shape::range;
    const Scale scale = leak_scale(finding.leak.median);  // one unit, or 0.3 L/min looks less than 0.5 mL/min
    all.push_back(fmt::format("leaks {}{}{}{}, where {} {}{}", scale.text(finding.leak.median),
                              at_what_vacuum(line, element), as_what(hunt, finding),
                              element.kind == line::Kind::pump ? " at its port, or back through its valves" : "", filed,
                              scale.text(finding.filed_leak), ranged ? " at most" : ""));
  }
  if (finding.open_fraction && finding.open_fraction->high < clear * finding.filed_open)
    all.push_back(fmt::format("lets {} through", percent(finding.open_fraction->median)));
  if (const hunt::Nuisance* seal = hunt::poor_seal(hunt, finding.element))
    all.push_back("the part on it lets in air " + how_freely(line, hunt, *seal));
  if (all.empty() && line.part && line.elements[finding.element].kind == line::Kind::nozzle)
    return " (it leaks, or the part does not seal on it: with its tip blocked the one stays, the other doesn't)";
  if (all.empty() && line.elements[finding.element].kind == line::Kind::pump)
    return " (it leaks at its port, its valves let air back, or it is worn: the readings don't tell which)";
  return all.empty() ? "" : " (" + listed(all) + ")";
}

/// Of whom one is worse, each with those that are alike: the readings don't tell it from them.
std::vector<std::size_t> among(const Hunt& hunt) {
  std::vector<std::size_t> all;
  for (const std::size_t i : hunt.amiss_among)
    for (const std::size_t k : told_as_one(hunt, i))
      if (std::find(all.begin(), all.end(), k) == all.end()) all.push_back(k);
  return all;
}

/// Whether those of whom one is worse are those that were just said to be look-alikes of the first.
bool all_alike(const Hunt& hunt) {
  const auto in = [](const std::vector<std::size_t>& all, std::size_t i) {
    return std::find(all.begin(), all.end(), i) != all.end();
  };
  if (hunt.amiss_among.empty() || too_strong(hunt) || hunt::verdict(hunt) != hunt::Verdict::unsure) return false;
  const std::vector<std::size_t> some = among(hunt);
  return std::any_of(hunt.look_alikes.begin(), hunt.look_alikes.end(), [&](const hunt::LookAlikes& group) {
    return in(group.elements, hunt.elements.front().element) &&
           std::is_permutation(group.elements.begin(), group.elements.end(), some.begin(), some.end());
  });
}

/// What is wrong with one of those of which one surely is, be it the only one.
std::string worse_among(const line::Line& line, const Hunt& hunt, const Look& look) {
  const bool sources = std::all_of(hunt.amiss_among.begin(), hunt.amiss_among.end(),
                                   [&](std::size_t i) { return line::is_source(line.elements[i].kind); });
  const std::string less =
      std::string(sources ? "gives less than half of the flow" : "passes less than half of what") + " the file has";
  const std::string what = hunt.among_shut < 0.5    ? "is worse than the file has it"
                           : hunt.among_shut < 0.99 ? less + ", or is else worse"
                                                    : less;
  return what + (hunt.among_excess.median > 0.0 ? ", by " + vacuum(look, hunt.among_excess.median)
                                                : ", though that costs the tip little as it stands");
}

/// Whether no reading had more air flow than leaks let in, so that a way that is all but shut would hardly show.
bool covered(const Hunt& hunt) {
  return !hunt.readings.empty() &&
         std::all_of(hunt.readings.begin(), hunt.readings.end(), [](const hunt::Compared& one) {
           const hunt::Setting& setting = one.reading.setting;
           const auto open = std::count(setting.tips.begin(), setting.tips.end(), solve::TipState::open);
           return !(setting.hole > 0.0) && open == 0;  // those that are off count as blocked
         });
}

/// What is not as the file has it and costs too little to be told of otherwise.
std::string little(const line::Line& line, const Hunt& hunt) {
  constexpr std::size_t most = 3;
  std::string text;
  std::size_t count = 0;
  for (const Finding& finding : hunt.elements) {
    if (!hunt::off_file(hunt, finding) || count == most) continue;
    text += (count++ == 0 ? " Not as the file has it, though it costs the tip little: " : "; ") +
            the(line.elements[finding.element]) + how(line, hunt, finding);
    if (finding.instead)
      text += fmt::format(", or in its place {}: the readings allow both", the(line.elements[*finding.instead]));
  }
  return text.empty() ? text : text + ".";
}

}  // namespace

std::string not_as_filed(const line::Line& line, const Hunt& hunt, const Look& look) {
  if (hunt.prior_only || hunt.quality.bad || hunt::verdict(hunt) == hunt::Verdict::unsettled ||
      hunt.effective < hunt::fewest_for_verdict)
    return "";
  const std::vector<Finding> all = told(hunt);
  const Finding& first = hunt.elements.front();
  std::string text;
  if (hunt::verdict(hunt) == hunt::Verdict::sure && by_design(hunt))
    text = fmt::format(" The file has {} {}so: {}.", the(line.elements[first.element]),
                       first.amiss < no_fault ? "" : "about ",
                       first.amiss < no_fault ? "that is its design and no fault" : "rather its design than a fault");
  if (!text.empty() && all.empty() && hunt.amiss_among.empty() && covered(hunt))
    text += " With no air drawn in, a clogged filter or nozzle would hardly show: no reading had the tip open.";
  for (const Finding& finding : all) {
    text += (&finding == &all.front() ? " Worse than the file has it: " : "; ") + the(line.elements[finding.element]);
    if (finding.excess.median > 0.0) text += ", by " + vacuum(look, finding.excess.median);
    text += how(line, hunt, finding);
    if (finding.instead)
      text += fmt::format(", or in its place {}: the readings allow both", the(line.elements[*finding.instead]));
    if (&finding == &all.back()) text += '.';
  }
  if (all_alike(hunt))
    text += fmt::format(" One of them {}.", worse_among(line, hunt, look));
  else if (among(hunt).size() == 1 && !too_strong(hunt))
    text +=
        fmt::format(" {}{} {}.", all.empty() ? "" : "Besides, ",
                    (all.empty() ? The : the)(line.elements[hunt.amiss_among.front()]), worse_among(line, hunt, look));
  else if (!hunt.amiss_among.empty() && !too_strong(hunt))
    text += fmt::format(" {} of these {}, and the readings don't tell which: {}.", all.empty() ? "One" : "Besides, one",
                        worse_among(line, hunt, look), listed(names(line, hunt, among(hunt))));
  else if (hunt.unsound > 0.0)
    text += fmt::format(" Something is worse than the file has it ({}), and the readings don't tell yet what.",
                        percent(hunt.unsound));
  else if (hunt::amiss(hunt).empty())
    text += little(line, hunt);
  return said_in(look, text);  // the vacuum at which leaks are compared
}

}  // namespace airtally::report
