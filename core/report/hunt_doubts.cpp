#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hunt/judgement.hpp"
#include "report/hunt_amiss_private.hpp"
#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

// What else is told of a hunt: wear, bores, and what speaks against readings or file.

namespace airtally::report {

using hunt::Finding;
using hunt::Hunt;

namespace {

constexpr double weak = 0.98;  ///< of its curve's deepest vacuum, below which a pump has lost some

}  // namespace

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
    const auto leaks = [&](const Finding& finding) {
      return finding.element == n.unknown.element && finding.leak.low > finding.filed_leak;
    };
    text += std::any_of(hunt.elements.begin(), hunt.elements.end(), leaks) ? ", less what leaks in. " : ". ";
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
