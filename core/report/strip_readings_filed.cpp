// What single readings of a removal test say beside the file: no step surprises there, or none could be compared.
#include <cmath>

#include "report/hunt_words_private.hpp"
#include "report/strip_readings_private.hpp"
#include "report/strip_teller_private.hpp"

namespace airtally::report {

using hunt::Beside;

std::string too_low(const Teller& teller, const Beside& b, bool confirmed) {
  const std::string both =
      fmt::format("read {} where the file says {}", teller.number(b, b.read), teller.number(b, b.predicted));
  const std::string pump = the(teller.cap(b));
  if (teller.at_source(b) && !is_gauge(b.instrument) && confirmed)
    return fmt::format(
        "{} itself is not as the file has it: with nothing else on it, it {}, and a gauge lacks vacuum as well. See "
        "to {} first, its supply too; what lies beyond it can only be judged once it is right.",
        capital(pump), both, pump);
  if (teller.at_source(b) && !is_gauge(b.instrument))
    return fmt::format("{} itself is not as the file has it, or its ammeter is off: with nothing else on it, it {}.",
                       capital(pump), both);
  if (teller.at_source(b) && confirmed)
    return fmt::format(
        "{} itself is weak: capped right behind it, with nothing else on it, {} {}, and another gauge lacks as much.",
        capital(pump), teller.dial(b), both);
  if (teller.at_source(b))
    return fmt::format(
        "{} itself is weak, or {} is off: capped right behind it, with nothing else on it, that gauge {}. Hold a "
        "second gauge against it before you take {} apart.",
        capital(pump), teller.dial(b), both, pump);
  const double off = std::fabs(b.predicted - b.read);
  return fmt::format(
      "{}, the line has {} than the file says. What is wrong is in it{}.", capital(teller.capped(b)),
      is_gauge(b.instrument) ? teller.number(b, off) + " less vacuum" : "a current " + teller.number(b, off) + " other",
      teller.nearer(b));
}

std::string too_high(const Teller& teller, const Beside& b) {
  return fmt::format(
      "{}, {} read {} more vacuum than the file says: the pump pulls more than its curve, the gauge reads too high, or "
      "the leaks in the file are too big.",
      capital(teller.capped(b)), teller.dial(b), teller.number(b, b.read - b.predicted));
}

std::string as_filed(const hunt::BesideAll& all, const study::Strip& strip) {
  const std::string end = " as the file says they should, as far as the instruments can tell.";
  if (all.list.empty()) return "Branch by branch the readings are" + end;
  std::vector<std::size_t> steps;
  for (const Beside& b : all.list)
    if (steps.empty() || steps.back() != b.step) steps.push_back(b.step);
  const std::string read = (steps.size() == 1 ? "one" : std::to_string(steps.size())) + " of the test's " +
                           counted(strip.steps.size(), "step") + (steps.size() == 1 ? " was read" : " were read");
  if (std::none_of(all.list.begin(), all.list.end(), [](const Beside& b) { return b.compared; }))
    return "Only " + read + (steps.size() == 1 ? "" : ", no two of them with the same instrument") +
           ", so that no element's step is known: what was read is by itself as the file says, as far as the "
           "instruments can tell.";
  return (all.set_aside.empty() ? "Step by step the readings fall" : "The other readings fall, step by step,") + end +
         (steps.size() < strip.steps.size() ? " Only " + read + '.' : "");
}

std::string left_out_far(const line::Line& line, const hunt::BesideAll& all, const Look& look) {
  if (!all.far) return "";
  const hunt::BesideOther& far = *all.far;
  return fmt::format(" {} of what is left out, as no step, is far off: {}, {} read {} where the file says {}.",
                     all.list.empty() && all.branches.empty() ? "One" : "But one", setting_phrase(line, far.setting),
                     dial_name(line, {far.instrument, far.at, 0.0}), value(far.instrument, far.read, look),
                     value(far.instrument, far.predicted, look));
}

}  // namespace airtally::report
