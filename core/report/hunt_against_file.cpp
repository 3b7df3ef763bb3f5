// Readings that the line as the file has it does not give.
#include <fmt/format.h>

#include "hunt/judgement.hpp"
#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

namespace airtally::report {

using hunt::Hunt;

std::string missed_sentence(const line::Line& line, const Hunt& hunt, const Look& look) {
  const std::optional<std::size_t> worst = hunt::missed(hunt);
  if (!worst || hunt.quality.bad) return "";
  const hunt::Compared& one = hunt.readings[*worst];
  const hunt::Reading& r = one.reading;
  const auto told = [&](double si) { return value(r.instrument, si, look); };
  if (r.instrument == hunt::Instrument::inflow)
    return fmt::format(
        " But what {} shut off lets in {}, where the file has {} at most: that costs the tip little while the "
        "vacuum is drawn, and decides how long it holds without.",
        the(line.elements[r.at]), told(r.value), told(one.filed));
  return fmt::format(
      " But {} {} read {} where a line as filed shows {}: something is worse than the file has it, and the "
      "readings don't tell yet what.",
      setting_phrase(line, r.setting), dial_name(line, {r.instrument, r.at, 0.0}), told(r.value), told(one.filed));
}

std::string spare_sentence(const line::Line& line, const Hunt& hunt, const Look& look) {
  const std::optional<std::size_t> most = hunt::spared(hunt);
  if (!most || hunt.prior_only || hunt.quality.bad) return "";
  const hunt::Compared& one = hunt.readings[*most];
  const hunt::Reading& r = one.reading;
  const auto told = [&](double si) { return value(r.instrument, si, look); };
  std::string text =
      r.instrument == hunt::Instrument::inflow
          ? fmt::format(" What {} shut off lets in {}, where the file has {}", the(line.elements[r.at]), told(r.value),
                        told(one.filed))
          : fmt::format(" {} {} read {} where a line as filed shows {}", capital(setting_phrase(line, r.setting)),
                        dial_name(line, {r.instrument, r.at, 0.0}), told(r.value), told(one.filed));
  std::string who;
  for (const hunt::Finding& finding : hunt.elements) {
    if (!hunt::better_than_filed(line, finding)) continue;
    const Scale scale = leak_scale(finding.filed_leak);
    who += fmt::format("{}{} leaks {} at most, not {}", who.empty() ? "" : ", ", the(line.elements[finding.element]),
                       scale.text(finding.leak.high), scale.text(finding.filed_leak));
  }
  text += who.empty() ? ": that is better than the file has it." : ", which is better: " + who + ".";
  return text + " Put the file right before you plan by it.";
}

}  // namespace airtally::report
