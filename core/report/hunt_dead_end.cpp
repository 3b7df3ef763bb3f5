// What is left to do where no test tells more.
#include <fmt/format.h>

#include <algorithm>

#include "hunt/judgement.hpp"
#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

namespace airtally::report {

using hunt::Hunt;

namespace {

/// The pressure log that no reading at rest stands for: without the pump a leak is told from wear and from a way that
/// is narrow. "" without a gauge, with a log already, and where the gauge would be shut off with the pump.
std::string log_instead(const line::Line& line, const Hunt& hunt) {
  const auto logged = [](const hunt::Compared& one) { return one.reading.instrument == hunt::Instrument::inflow; };
  if (std::any_of(hunt.readings.begin(), hunt.readings.end(), logged)) return "";
  const auto has = std::find_if(line.elements.begin(), line.elements.end(),
                                [](const line::Element& e) { return e.gauge.has_value() && !line::is_source(e.kind); });
  const auto source = std::find_if(line.elements.begin(), line.elements.end(),
                                   [](const line::Element& e) { return is_source(e.kind); });
  if (has == line.elements.end() || source == line.elements.end()) return "";
  return fmt::format(
      " Or tell leaks from wear and narrow ways without {}: block the tip, clamp the line off right behind it, log how "
      "the vacuum at {} goes (airtally decay), and give this hunt the log.",
      the(*source), the(*has));
}

}  // namespace

std::string dead_end(const line::Line& line, const Hunt& hunt, const Look& look) {
  if (hunt.with_plug_gauge)
    return "No further test with the instruments of this line would tell much more. A loose gauge in the plug would: " +
           test_sentence(line, *hunt.with_plug_gauge, look);
  if (hunt.prior_only && hunt.next.empty())
    return "There is no test left: nothing that could be read is to be had. Where a gauge can be had, enter it "
           "in the line file, or with --plug-gauge say that a loose one can go into the plug; then start again.";
  if (hunt::verdict(hunt) == hunt::Verdict::sure || hunt.prior_only)
    return "No further test on this line would tell much more.";
  if (hunt.quality.chance < hunt::unbelievable)
    return "While the line file can't explain these readings no further test tells more. Take those again that fit "
           "worst, and see that the file has the line as it is.";
  const std::vector<hunt::Finding> amiss = hunt::amiss(hunt);
  double wrong = 0.0;  // number of elements that are amiss, as expected
  for (const hunt::Finding& finding : hunt.elements) wrong += finding.amiss;
  const bool as_filed = amiss.empty() && !hunt::missed(hunt) && hunt.amiss_among.empty() && wrong < 0.5 &&
                        std::none_of(hunt.elements.begin(), hunt.elements.end(),
                                     [&](const hunt::Finding& finding) { return hunt::off_file(hunt, finding); });
  if (as_filed)
    return "No further test on this line would tell much more, and what was read is as the file has it, by and large: "
           "there is nothing to mend yet.";
  const auto among = std::find_if(hunt.elements.begin(), hunt.elements.end(), [&](const hunt::Finding& finding) {
    return std::find(hunt.amiss_among.begin(), hunt.amiss_among.end(), finding.element) != hunt.amiss_among.end();
  });
  const std::size_t suspect = !amiss.empty()                 ? amiss.front().element
                              : among != hunt.elements.end() ? among->element
                                                             : hunt.elements.front().element;
  return fmt::format(
             "No further test on this line would tell much more. Take {} out, or put a good one in its place, and see "
             "what the tip gains.",
             the(line.elements[suspect])) +
         log_instead(line, hunt);
}

}  // namespace airtally::report
