#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

using hunt::Finding;
using hunt::Hunt;

constexpr double no_fault = 0.05;  ///< chance of being worse than filed below which it isn't
constexpr double no_pump = 1.15;   ///< times its curve's flow: no pump of that curve
constexpr double weak = 0.98;      ///< of its curve's deepest vacuum, below which a pump has lost some
constexpr double clear = 0.95;     ///< open fraction from which on a way is as the file has it

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

/// What is wrong with it, as far as the readings tell by which: a leak, a narrow way and wear may stand for each other.
std::string how(const line::Line& line, const Hunt& hunt, const Finding& finding) {
  std::vector<std::string> all;
  if (finding.leak.low > finding.filed_leak) {
    const bool filed = !line.elements[finding.element].leaks.empty();
    const Scale scale = leak_scale(finding.leak.median);  // one unit, or 0.3 L/min looks less than 0.5 mL/min
    all.push_back(fmt::format("leaks {}{}, where {} {}", scale.text(finding.leak.median), as_what(hunt, finding),
                              filed ? "the file has" : "a sound one has about", scale.text(finding.filed_leak)));
  }
  if (finding.open_fraction && finding.open_fraction->high < clear * finding.filed_open)
    all.push_back(fmt::format("lets {} through", percent(finding.open_fraction->median)));
  for (const hunt::Nuisance& n : hunt.others) {
    const bool flow = n.unknown.what == hunt::What::pump_flow, vacuum = n.unknown.what == hunt::What::pump_vacuum;
    if (n.unknown.element != finding.element || !(flow || vacuum) || !(n.value.high < clear * n.unknown.filed()))
      continue;
    all.push_back(fmt::format("{} of its curve's {}", percent(n.value.median), flow ? "flow" : "vacuum"));
  }
  return all.empty() ? "" : " (" + listed(all) + ")";
}

}  // namespace

namespace {

/// Whether nothing but its design speaks against the first.
bool by_design(const Hunt& hunt) {
  const Finding& first = hunt.elements.front();
  const bool among =
      std::find(hunt.amiss_among.begin(), hunt.amiss_among.end(), first.element) != hunt.amiss_among.end();
  return first.amiss < 0.5 && !among && !hunt::off_file(hunt, first);
}

/// Whether a pump seems to give what no pump of its curve gives: then nothing but the first is to be believed.
bool too_strong(const Hunt& hunt) {
  return std::any_of(hunt.others.begin(), hunt.others.end(), [](const hunt::Nuisance& n) {
    return n.unknown.what == hunt::What::pump_flow && n.value.low > no_pump;
  });
}

/// Whether those of whom one is worse are among those that were just said to be look-alikes of the first.
bool all_alike(const Hunt& hunt) {
  const auto in = [](const std::vector<std::size_t>& all, std::size_t i) {
    return std::find(all.begin(), all.end(), i) != all.end();
  };
  if (hunt.amiss_among.empty() || too_strong(hunt) || hunt::verdict(hunt) != hunt::Verdict::unsure) return false;
  return std::any_of(hunt.look_alikes.begin(), hunt.look_alikes.end(), [&](const hunt::LookAlikes& group) {
    return in(group.elements, hunt.elements.front().element) &&
           std::all_of(hunt.amiss_among.begin(), hunt.amiss_among.end(),
                       [&](std::size_t i) { return in(group.elements, i); });
  });
}

/// What is wrong with one of several.
std::string worse_among(const Hunt& hunt, const Look& look) {
  const std::string what = hunt.among_shut < 0.5    ? "is worse than the file has it"
                           : hunt.among_shut < 0.99 ? "passes less than half of what the file has, or is else worse"
                                                    : "passes less than half of what the file has";
  return what + (hunt.among_excess.median > 0.0 ? ", by " + vacuum(look, hunt.among_excess.median)
                                                : ", though that costs the tip little as it stands");
}

/// Whether no reading had more air flow than leaks let in, so that a way that is all but shut would hardly show.
bool covered(const Hunt& hunt) {
  return !hunt.readings.empty() &&
         std::all_of(hunt.readings.begin(), hunt.readings.end(), [](const hunt::Compared& one) {
           const hunt::Setting& setting = one.reading.setting;
           const auto open = std::count(setting.tips.begin(), setting.tips.end(), solve::TipState::open);
           return !(setting.hole > 0.0) && (setting.cap || open == 0);
         });
}

/// What is told as worse than filed: nothing on figures that are not to be relied on, and of those of whom each may
/// have done it no one.
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
    text += fmt::format(" One of them {}.", worse_among(hunt, look));
  else if (!hunt.amiss_among.empty() && !too_strong(hunt))
    text += fmt::format(" {} of these {}, and the readings don't tell which: {}.", all.empty() ? "One" : "Besides, one",
                        worse_among(hunt, look), listed(names(line, hunt, hunt.amiss_among)));
  else if (hunt::amiss(hunt).empty())
    text += little(line, hunt);
  return text;
}

std::string what_to_mend(const line::Line& line, const Hunt& hunt) {
  const std::string worst = the(line.elements[hunt.elements.front().element]);
  std::vector<std::string> wrong, among, instead;
  for (const Finding& finding : told(hunt)) {
    wrong.push_back(the(line.elements[finding.element]));
    if (finding.instead) instead.push_back(the(line.elements[*finding.instead]));
  }
  if (!too_strong(hunt)) among = names(line, hunt, hunt.amiss_among);
  const std::string design =
      by_design(hunt) ? fmt::format(" {} costs more but is as the file has it: only another design gains that.",
                                    The(line.elements[hunt.elements.front().element]))
                      : "";
  std::string text;
  if (!wrong.empty())
    text = fmt::format("Mend or replace {}{}.", listed(wrong),
                       instead.empty() ? "" : ", or see first that it is not " + listed(instead));
  if (!among.empty())
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

std::string bore_sentence(const line::Line& line, const Hunt& hunt) {
  constexpr double other = 0.9;
  std::string text;
  if (hunt.prior_only || hunt.quality.bad || hunt.effective < hunt::fewest_for_verdict) return text;
  for (const Finding& finding : hunt.elements) {
    const line::Bore* filed = hunt::long_bore(line.elements[finding.element]);
    if (!filed || !finding.bore || !(finding.bore->high < other * filed->bore.low)) continue;
    const bool rivalled = !hunt.rivals.empty() && finding.element == hunt.elements.front().element;
    const std::string it =
        rivalled ? "If it is " + the(line.elements[finding.element]) + ", that" : The(line.elements[finding.element]);
    text += fmt::format(
        "{} passes what a bore of {:.1f} mm ({:.1f} to {:.1f}) would, and the file has {:.1f} mm: see which it has, "
        "and "
        "whether it is pinched or lined with dirt. ",
        it, 1e3 * finding.bore->median, 1e3 * finding.bore->low, 1e3 * finding.bore->high, 1e3 * filed->bore.value);
  }
  if (!text.empty()) text.pop_back();
  return text;
}

std::string doubts_sentence(const line::Line& line, const Hunt& hunt) {
  std::string text;
  if (hunt.prior_only || hunt.effective < hunt::fewest_for_verdict) return text;
  for (const hunt::Nuisance& n : hunt.others) {
    const std::string it = n.unknown.instrument == hunt::Instrument::plugged
                               ? std::string("The gauge in the plug")
                               : "The gauge at " + the(line.elements[n.unknown.element]);
    const double accuracy = 2.0 * n.unknown.prior.at(1.0);
    if (n.unknown.what == hunt::What::offset && hunt::is_gauge(n.unknown.instrument) &&
        (n.value.low > accuracy || n.value.high < -accuracy))
      text += fmt::format(
          "{} seems to read {:.1f} kPa {}, beyond its accuracy of {:.1f} kPa: see that it shows 0 with "
          "its port open. ",
          it, 1e-3 * std::fabs(n.value.median), n.value.median < 0.0 ? "too little" : "too much", 1e-3 * accuracy);
    if (n.unknown.what == hunt::What::pump_flow && n.value.low > no_pump)
      text += fmt::format(
          "{} can't pump that much more than its curve. Either the curve is another's, or the line is not as the file "
          "has it: believe no more than the first of what stands here. ",
          The(line.elements[n.unknown.element]));
    if (n.unknown.what == hunt::What::pump_vacuum && n.value.high < weak * n.unknown.filed())
      text += fmt::format(
          "A gauge that reads too little looks like {} that has lost vacuum: before that comes off, see that the gauge "
          "shows 0 with its port open. ",
          the(line.elements[n.unknown.element]));
  }
  if (!text.empty()) text.pop_back();
  return text;
}

}  // namespace airtally::report
