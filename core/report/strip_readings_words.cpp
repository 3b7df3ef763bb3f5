// What the readings of a removal test say of the line, in sentences.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "report/hunt_text.hpp"
#include "report/strip_readings_private.hpp"
#include "report/verdicts.hpp"
#include "report/words.hpp"

namespace airtally::report {

bool stands(const hunt::BesideAll& all, double size) {
  return all.contradictions.empty() || std::fabs(size) > 2.0 * all.contradictions.front().by;
}

namespace {

using hunt::Beside;

/// What is read from one place to the next in sentences: the cap of a reading, its instrument, its number.
class Teller {
 public:
  Teller(const line::Line& line, const study::Strip& strip, const Look& look)
      : line_(line), strip_(strip), look_(look) {}

  const line::Element& cap(const Beside& b) const { return line_.elements[strip_.steps[b.step].cap]; }
  bool at_source(const Beside& b) const { return strip_.steps[b.step].before == b.step; }
  std::string capped(const Beside& b) const {
    return cap(b).kind == line::Kind::nozzle ? "with " + the(cap(b)) + " blocked" : "capped behind " + the(cap(b));
  }
  /// Whether all of them lie on the way from the step that this one is compared with to its cap.
  bool on_its_way(const Beside& b, const std::vector<std::size_t>& elements) const {
    std::vector<std::size_t> way;
    for (std::size_t s = b.step; s != b.from; s = strip_.steps[s].before) way.push_back(strip_.steps[s].cap);
    return std::all_of(elements.begin(), elements.end(),
                       [&](std::size_t e) { return std::find(way.begin(), way.end(), e) != way.end(); });
  }
  /// "the hose 1, the hose 2 or 3 others".
  std::string either(const std::vector<std::size_t>& elements) const {
    constexpr std::size_t most = 6;
    std::vector<std::string> names;
    for (std::size_t k = 0; k < elements.size() && (k < most || elements.size() == most + 1); ++k)
      names.push_back(the(line_.elements[elements[k]]));
    if (names.size() < elements.size()) names.push_back(std::to_string(elements.size() - names.size()) + " others");
    const std::string last = names.back();
    names.pop_back();
    return names.empty() ? last : fmt::format("{} or {}", fmt::join(names, ", "), last);
  }
  bool several_tips() const { return line::all_of(line_, line::Kind::nozzle).size() > 1; }
  std::string dial(const Beside& b) const { return dial_name(line_, {b.instrument, b.at, 0.0}); }
  std::string number(const Beside& b, double si) const {
    return is_gauge(b.instrument) ? vacuum(look_, si) : current_scale(si).text(si);
  }

 private:
  const line::Line& line_;
  const study::Strip& strip_;
  const Look& look_;
};

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

/// A reading with none to compare it with, below what the file says.
std::string too_low(const Teller& teller, const Beside& b, bool confirmed) {
  const std::string both =
      fmt::format("read {} where the file says {}", teller.number(b, b.read), teller.number(b, b.predicted));
  const std::string pump = the(teller.cap(b));
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
      "{}, the line has {} than the file says. What is wrong is in it: cap it nearer to the pump, step by step, and "
      "read the same instrument.",
      capital(teller.capped(b)),
      is_gauge(b.instrument) ? teller.number(b, off) + " less vacuum"
                             : "a current " + teller.number(b, off) + " other");
}

std::string too_high(const Teller& teller, const Beside& b) {
  return fmt::format(
      "{}, {} read {} more vacuum than the file says: the pump pulls more than its curve, the gauge reads too high, or "
      "the leaks in the file are too big.",
      capital(teller.capped(b)), teller.dial(b), teller.number(b, b.read - b.predicted));
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
  const std::string by = teller.number(b, std::fabs(b.surprise)) + (is_gauge(b.instrument) ? " more vacuum" : " other");
  const std::string pump =
      pump_may(all) ? ", or in the pump: a weak one makes the step of what leaks by design larger" : "";
  if (teller.on_its_way(b, all.in_doubt) && all.in_doubt.size() > 1)
    return fmt::format(
        "{}, the line costs {} than the file says, against the step before that was read. What is wrong is in {}{}. "
        "Cap between them.",
        capital(teller.capped(b)), by, teller.either(all.in_doubt), pump);
  if (teller.on_its_way(b, all.in_doubt))
    return fmt::format(
        "{} surprises most: its step costs {} than the file says. What is wrong is in what was added "
        "there{}.",
        The(teller.cap(b)), by, pump);
  const std::string step =
      fmt::format("{}, the line costs {} than the file says, against the step before.", capital(teller.capped(b)), by);
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
           (teller.several_tips() ? "one tip blocked, the others as they are, or a branch off." : "the tip blocked.");
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
    said.push_back(std::string(all.list.empty()        ? "Branch by branch the readings are"
                               : all.set_aside.empty() ? "Step by step the readings fall"
                                                       : "The other readings fall, step by step,") +
                   " as the file says they should, as far as the instruments can tell.");
  return fmt::format("{}", fmt::join(said, " "));
}

}  // namespace airtally::report
