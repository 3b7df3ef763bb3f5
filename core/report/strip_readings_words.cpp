// What the readings of a removal test say of the line, in sentences.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "report/hunt_text.hpp"
#include "report/strip_readings_private.hpp"
#include "report/strip_teller_private.hpp"
#include "report/verdicts.hpp"
#include "report/words.hpp"

namespace airtally::report {

bool stands(const hunt::BesideAll& all, double size) {
  return all.contradictions.empty() || std::fabs(size) > 2.0 * all.contradictions.front().by;
}

namespace {

using hunt::Beside;

std::string contradiction(const Teller& teller, const hunt::BesideAll& all) {
  const hunt::Contradiction& worst = all.contradictions.front();
  const Beside &nearer = all.list[worst.nearer], &beyond = all.list[worst.beyond];
  std::string text =
      worst.same_step
          ? fmt::format("Two readings of one setting disagree: {}, {} read {} and {}. ", teller.capped(nearer),
                        teller.dial(nearer), teller.number(nearer, nearer.read), teller.number(beyond, beyond.read))
          : fmt::format(
                "These readings contradict each other: {}, {} read {}, and {}, with more of the line on the pump, {}. "
                "More line leaks more, so the vacuum can only fall. ",
                teller.capped(nearer), teller.dial(nearer), teller.number(nearer, nearer.read), teller.capped(beyond),
                teller.number(beyond, beyond.read));
  text += "One was misread, or the pump ran differently: take both again.";
  if (all.contradictions.size() == 1) return text;
  std::vector<std::string> more;
  for (std::size_t k = 1; k < all.contradictions.size(); ++k) {
    const hunt::Contradiction& c = all.contradictions[k];
    more.push_back(teller.capped(all.list[c.nearer]) +
                   (c.same_step ? "" : " and " + teller.capped(all.list[c.beyond])));
  }
  return text + fmt::format(" So do those {}.", fmt::join(more, "; "));
}

/// Whether a weak pump may be what makes the step that surprises most: the file too has one there, half as big at
/// least, or the gauge read too little already nearer to the pump.
bool pump_may(const hunt::BesideAll& all) {
  const Beside& worst = all.list[*all.worst];
  if (!is_gauge(worst.instrument)) return false;
  for (std::size_t k = *all.worst; k-- > 0;) {
    const Beside& b = all.list[k];
    if (b.instrument != worst.instrument || b.at != worst.at) continue;
    const double surprise = std::fabs(worst.surprise);
    return b.predicted - worst.predicted > 0.5 * surprise || b.predicted - b.read > surprise / 3.0;
  }
  return false;
}

/// A reading at odds with the others that have its element on the line too.
std::string suspect(const Teller& teller, const hunt::BesideAll& all, const Misread& misread) {
  const Beside& b = all.list[misread.reading];
  const bool one = misread.against == 1;
  return fmt::format(
      "One reading is suspect, not {}: {}, {} read {} where the file says {}. But {} is on the line in {} too, and "
      "there the same instrument shows nothing of it. Take that reading again.",
      the(teller.cap(b)), teller.capped(b), teller.dial(b), teller.number(b, b.read), teller.number(b, b.predicted),
      the(teller.cap(b)), one ? "another step" : std::to_string(misread.against) + " other steps");
}

/// The step that surprises most, and what its surprise may lie in.
std::string surprise(const Teller& teller, const hunt::BesideAll& all) {
  const Beside& b = all.list[*all.worst];
  const std::string by = teller.number(b, std::fabs(b.surprise));
  const std::string costs = is_gauge(b.instrument)
                                ? "costs " + by + " more vacuum than the file says"
                                : "takes the pump's current " + by + (b.surprise < 0.0 ? " lower" : " higher") +
                                      " than the file says it does";
  const std::string pump =
      pump_may(all) ? ", or in the pump: a weak one makes the step of what leaks by design larger" : "";
  if (teller.on_its_way(b, all.in_doubt) && all.in_doubt.size() > 1)
    return fmt::format(
        "{}, the line {}, against the step before that was read. What is wrong is in {}{}. "
        "Cap between them.",
        capital(teller.capped(b)), costs, teller.either(all.in_doubt), pump);
  if (teller.on_its_way(b, all.in_doubt))
    return fmt::format(
        "{} surprises most: its step {}. What is wrong is in what was added "
        "there{}.",
        The(teller.cap(b)), costs, pump);
  const std::string step = fmt::format("{}, the line {}, against the step before.", capital(teller.capped(b)), costs);
  if (all.in_doubt.size() == 1)
    return step + fmt::format(" If one thing is wrong, it is {}{}.", teller.either(all.in_doubt), pump);
  return step + fmt::format(
                    " That step is read with other branches on, which may have brought it just as well: if one "
                    "thing is wrong, it is in {}{}.",
                    teller.either(all.in_doubt), pump);
}

}  // namespace

std::string strip_readings_verdict(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all,
                                   const std::optional<Misread>& misread, const Look& look) {
  const Teller teller(line, strip, look);
  if (all.list.empty() && all.branches.empty() && !all.set_aside.empty())
    return "There is nothing to put beside the file: no state of the line could give what was read.";
  if (all.list.empty() && all.branches.empty())
    return std::string("None of the readings is a step of the removal test: a blind cap, or ") +
           (teller.several_tips() ? "one tip blocked, the others as they are, or a branch off." : "the tip blocked.") +
           left_out_far(line, all, look);
  std::vector<std::string> said;
  if (misread) said.push_back(suspect(teller, all, *misread));
  if (!misread && all.worst && stands(all, all.list[*all.worst].surprise)) {
    said.push_back(surprise(teller, all));
  }
  if (all.off && (!all.worst || teller.at_source(all.list[*all.off]))) {
    const Beside& b = all.list[*all.off];
    if (stands(all, b.predicted - b.read)) said.push_back(too_low(teller, b, all.off_confirmed));
  }
  if (all.spared && said.empty() && stands(all, all.list[*all.spared].surprise)) {
    const Beside& b = all.list[*all.spared];
    said.push_back(fmt::format(
        "No step costs more than the file says. {} costs {} less vacuum: it is better than the file takes it to be.",
        The(teller.cap(b)), teller.number(b, b.surprise)));
  }
  if (all.above && stands(all, all.list[*all.above].read - all.list[*all.above].predicted))
    said.push_back(too_high(teller, all.list[*all.above]));
  // What no branch brings may lie in what a step has found.
  using Kind = hunt::BranchFinding::Kind;
  const bool whole = all.branch_finding.kind == Kind::elsewhere || all.branch_finding.kind == Kind::above;
  if (const std::string branch = branch_sentence(line, all, look); !branch.empty() && (!whole || said.empty()))
    said.push_back(branch);
  // A suspect reading that takes part in the widest contradiction is what makes it.
  const bool told =
      misread && all.contradictions.size() == 1 &&
      (all.contradictions.front().nearer == misread->reading || all.contradictions.front().beyond == misread->reading);
  if (!all.contradictions.empty() && !told)
    said.push_back(contradiction(teller, all));
  else if (said.empty())
    return as_filed(all, strip) + left_out_far(line, all, look);
  return fmt::format("{}", fmt::join(said, " "));
}

}  // namespace airtally::report
