// The verdict: who it is, or what stands between.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "hunt/judgement.hpp"
#include "report/hunt_amiss_private.hpp"
#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

namespace airtally::report {

using hunt::Hunt;

std::string set_aside_sentence(const hunt::Impossible& aside) {
  const Position& where = aside.reading.where;
  return "Set aside: " + (where.line > 0 ? to_string(where) + ": " : std::string()) + aside.sentence;
}

namespace {

/// What a verdict leaves open: elements that no reading had on the line, which may cost as much and more.
std::string left_open(const line::Line& line, const Hunt& hunt) {
  std::vector<std::size_t> untested;
  for (const hunt::Finding& finding : hunt.elements)
    if (finding.only_prior && finding.cost.high > 0.0) untested.push_back(finding.element);
  if (untested.empty()) return "";
  std::sort(untested.begin(), untested.end());
  return fmt::format(" No reading had {} on the line, so what {} costs is only by the file: read once more with {} on.",
                     listed(names(line, hunt, untested)), untested.size() == 1 ? "it" : "each",
                     untested.size() == 1 ? "it" : "them");
}

/// Another reading of the same that is far from it; "" where there is none.
std::string disagrees(const Hunt& hunt, const hunt::Reading& reading, const Look& look) {
  for (const hunt::Compared& other : hunt.readings) {
    const hunt::Reading& r = other.reading;
    if (!(r.setting == reading.setting) || r.instrument != reading.instrument || r.at != reading.at) continue;
    // The prediction is the same for both, so half of what parts them is a misfit of each.
    if (std::fabs(r.value - reading.value) <= std::fabs(hunt.quality.worst_misfit)) continue;
    return fmt::format("Of the same setting {} has {}: take both again. ",
                       r.where.line > 0 ? to_string(r.where) : std::string("another"),
                       value(r.instrument, r.value, look));
  }
  return "";
}

/// "the hose", "the hose or the valve", "any of the hose, the valve and the tee".
std::string any_of(const std::vector<std::string>& all) {
  return all.size() == 1 ? all[0] : all.size() == 2 ? all[0] + " or " + all[1] : "any of " + listed(all);
}

/// What may be at fault all the same.
std::string not_shown(const line::Line& line, const Hunt& hunt) {
  if (hunt.hidden.empty()) return "";
  const std::vector<std::string> all = names(line, hunt, hunt.hidden);
  const std::string where = all.size() < 5 ? any_of(all) : fmt::format("any of {} other elements", all.size());
  return fmt::format(" A fault in {} would not have shown yet.", where);
}

/// The first is surely worse than it should be, though another may cost more.
std::string at_fault(const line::Line& line, const Hunt& hunt, const std::string& cost) {
  const std::size_t first = hunt.elements.front().element;
  std::vector<std::size_t> others;
  for (const hunt::LookAlikes& group : hunt.look_alikes)
    if (std::find(group.elements.begin(), group.elements.end(), first) != group.elements.end())
      std::copy_if(group.elements.begin(), group.elements.end(), std::back_inserter(others),
                   [&](std::size_t i) { return i != first; });
  return fmt::format("{} is not as it should be, and {}. Whether it is the worst is not yet sure ({}){}.",
                     The(line.elements[first]), cost, percent(hunt.elements.front().worst_probability),
                     others.empty() ? "" : ": it may be " + any_of(names(line, hunt, others)));
}

/// Who it is, or what stands between.
std::string who(const line::Line& line, const Hunt& hunt, const Look& look) {
  const hunt::Finding& first = hunt.elements.front();
  const line::Element& e = line.elements[first.element];
  if (hunt.prior_only)
    return fmt::format(
        "Nothing was read yet: what follows is only what is common for such a line. {} is then the worst "
        "with {}.",
        The(e), percent(first.worst_probability));
  std::string text;
  if (hunt.quality.bad && hunt.quality.worst) {
    const hunt::Compared& worst = hunt.readings.at(*hunt.quality.worst);
    text = fmt::format(
        "The line file can't explain these readings ({}). The one that fits worst is {}: read {}, and the "
        "best fit gives {}. Check that reading, and the file, before believing the rest. ",
        hunt.quality.chance < 1e-6 ? std::string("not by one chance in a million")
                                   : fmt::format("chance {:.1g}", hunt.quality.chance),
        worst.reading.where.line > 0 ? to_string(worst.reading.where) : std::string("the last"),
        value(worst.reading.instrument, worst.reading.value, look),
        value(worst.reading.instrument, worst.reading.value + hunt.quality.worst_misfit, look));
    text += disagrees(hunt, worst.reading, look);
  }
  if (hunt.effective < hunt::fewest_for_verdict) return text + "Too few samples agree for a ranking.";
  const std::string cost = fmt::format("it costs the tip {} ({} to {})", vacuum(look, first.cost.median),
                                       vacuum(look, first.cost.low), vacuum(look, first.cost.high));
  const bool none_off = std::none_of(hunt.elements.begin(), hunt.elements.end(),
                                     [&](const hunt::Finding& finding) { return hunt::off_file(hunt, finding); });
  if (hunt::nothing_much(hunt) && !hunt.quality.bad)
    return text +
           fmt::format("{}: the worst element is most likely {} ({}), and {}.",
                       hunt::amiss(hunt).empty() && hunt.amiss_among.empty() && none_off && hunt.unsound == 0.0 &&
                               !hunt::missed(hunt)
                           ? "Nothing is much wrong"
                           : "Nothing costs the tip much as it stands",
                       the(e), percent(first.worst_probability), cost) +
           not_shown(line, hunt);
  if (first.only_prior)
    return text + fmt::format("The likeliest is {} with {}, but only by the file: no reading had it on the line yet.",
                              the(e), percent(first.worst_probability));
  switch (hunt::verdict(hunt)) {
    case hunt::Verdict::sure:
      return text + fmt::format("It is {}{}: {} sure, and {}.", seal_alone(hunt, first) ? "how the part seals on " : "",
                                the(e), percent(first.worst_probability), cost);
    case hunt::Verdict::rivalled:
      return text + fmt::format(
                        "It is most likely {} ({}), and {}; but that rests on where such faults usually are: a "
                        "fault in {} would explain these readings too. {}",
                        the(e), percent(first.worst_probability), cost, any_of(names(line, hunt, hunt.rivals)),
                        hunt::further_test(hunt) ? "A test that parts them makes sure."
                                                 : "No reading that this line has an instrument for parts them.");
    case hunt::Verdict::unexplained:
      return text + fmt::format("If they are right, it is {}, and {}; that is no verdict yet.", the(e), cost);
    case hunt::Verdict::unsettled:
      return text + fmt::format("It looks like {}, and {}; but the samples do not agree well enough for a verdict.",
                                the(e), cost);
    case hunt::Verdict::unsure:
      break;
  }
  if (hunt::amiss(hunt).empty() && hunt.amiss_among.empty() && none_off && hunt.unsound == 0.0 && !hunt::missed(hunt))
    return text +
           fmt::format("What was read is as it should be, by and large: the worst is most likely {} ({}), and {}.",
                       the(e), percent(first.worst_probability), cost) +
           not_shown(line, hunt);
  const std::vector<hunt::Finding> wrong = told(hunt);
  if (std::any_of(wrong.begin(), wrong.end(), [&](const auto& one) { return one.element == first.element; }))
    return text + at_fault(line, hunt, cost);
  // Of some that are alike none is the likeliest: it is any of them with the chance of all.
  const std::vector<std::size_t> row = told_as_one(hunt, first.element);
  const std::string likeliest = row.size() == 1 ? the(e) : "one of " + listed(names(line, hunt, row));
  const double chance = first.worst_probability * static_cast<double>(row.size());
  for (const hunt::LookAlikes& group : hunt.look_alikes)
    if (std::find(group.elements.begin(), group.elements.end(), first.element) != group.elements.end())
      return text + (hunt::like(hunt, first.element).size() == group.elements.size()
                         ? fmt::format("These readings can't tell {} apart; each is the worst with {}.",
                                       listed(names(line, hunt, group.elements)), percent(first.worst_probability))
                         : fmt::format("These readings can't tell {} apart; the likeliest is {} with {}.",
                                       listed(names(line, hunt, group.elements)), likeliest, percent(chance)));
  return text + fmt::format("The likeliest is {} with {}, and {}; not yet sure.", likeliest, percent(chance), cost);
}

}  // namespace

std::string hunt_verdict(const line::Line& line, const Hunt& hunt, const Look& look) {
  std::string text = who(line, hunt, look);
  const std::string wrong = not_as_filed(line, hunt, look);
  const bool told = !wrong.empty() || hunt.prior_only || hunt::verdict(hunt) != hunt::Verdict::unsure;
  text += told ? wrong : missed_sentence(line, hunt, look);
  text += spare_sentence(line, hunt, look);
  const bool judged = hunt::verdict(hunt) == hunt::Verdict::sure && !hunt::nothing_much(hunt);
  return judged ? text + left_open(line, hunt) : text;
}

}  // namespace airtally::report
