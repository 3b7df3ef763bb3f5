// What a test is, and what it is good for.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hunt/judgement.hpp"
#include "hunt/readings/cut.hpp"
#include "line/topology.hpp"
#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"
#include "units/unit.hpp"

namespace airtally::report {

using hunt::Hunt;
using hunt::Instrument;
using hunt::NextTest;

std::string value(Instrument instrument, double si, const Look& look) {
  if (is_gauge(instrument)) return vacuum_scale(look, 20e3).text(si);
  return instrument == Instrument::current ? current_scale().text(si) : flow(si);
}

std::string percent(double share) { return share > 0.995 ? "over 99 %" : fmt::format("{:.0f} %", 100.0 * share); }

namespace {

/// The diameter by which a plate is told from its neighbours in a set, three digits and no zeros behind them: "0.4 mm",
/// "0.125 mm".
std::string plate_size(double hole) {
  return fmt::format("{:.3g} mm", units::from_si(hole, *units::find_unit("mm", units::Dimension::length)));
}

/// What is on the tips that are left on the line when some of it is off, after a space; "" where none is left.
std::string others_phrase(const line::Line& line, const hunt::Setting& setting) {
  const std::vector<std::size_t> index = hunt::cut(line, line::topology(line, false), setting).index;
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  std::vector<solve::TipState> states;
  for (std::size_t k = 0; k < std::min(nozzles.size(), setting.tips.size()); ++k)
    if (setting.cap != nozzles[k] && index[nozzles[k]] != line::none) states.push_back(setting.tips[k]);
  if (states.empty()) return "";
  if (states.size() == nozzles.size()) return fmt::format(" {}", state_phrase(states));
  const bool other = setting.cap && line.elements[*setting.cap].kind == line::Kind::nozzle;
  const std::string of = other ? "other tip" : "remaining tip";
  const std::string_view shared = word(states);
  if (shared == "mixed") return fmt::format(" {}", state_phrase(states));
  return shared == "part" ? fmt::format(" with a part on every {}", of) : fmt::format(" with every {} {}", of, shared);
}

/// What is to be taken off, or is off already.
std::string off_phrase(const line::Line& line, const NextTest& test) {
  const std::vector<std::size_t>& off = test.setting.off;
  std::vector<std::string> branches, forks;
  const line::Topology topology = line::topology(line, false);
  for (const std::size_t i : off) {
    branches.push_back(the(line.elements[i]));
    const std::string fork = the(line.elements[topology.before[i]]);
    if (std::find(forks.begin(), forks.end(), fork) == forks.end()) forks.push_back(fork);
  }
  if (test.standing) return "without " + listed(branches);
  return fmt::format("{}ake {} off {} and block the {}", test.setting.cap ? "t" : "T", listed(branches), listed(forks),
                     off.size() == 1 ? "opening" : "openings");
}

/// Some tips blocked, by name, and what is on the others; "" where all are alike, or not told so.
std::string blocked_phrase(const line::Line& line, const NextTest& test) {
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  std::vector<std::string> blocked;
  std::vector<solve::TipState> others;
  for (std::size_t k = 0; k < std::min(nozzles.size(), test.setting.tips.size()); ++k) {
    if (test.setting.tips[k] == solve::TipState::blocked)
      blocked.push_back(the(line.elements[nozzles[k]]));
    else
      others.push_back(test.setting.tips[k]);
  }
  const std::string_view shared = others.empty() ? "" : word(others);
  if (blocked.empty() || others.empty() || shared == "mixed") return "";
  return (test.standing ? "Leave " : "Block ") + listed(blocked) + (test.standing ? " blocked" : "") +
         (shared == "part" ? std::string(" with a part on every other tip")
                           : fmt::format(" with every other tip {}", shared));
}

/// What is to be done to the line, or was done.
std::string done_phrase(const line::Line& line, const NextTest& test) {
  const bool taken = !test.setting.off.empty();
  std::string text = test.standing ? "Leave the line as it is, " : "";
  if (test.setting.cap) {
    const line::Element& cap = line.elements[*test.setting.cap];
    const bool nozzle = cap.kind == line::Kind::nozzle;
    text += test.standing ? (nozzle ? the(cap) + " blocked" : "capped behind " + the(cap))
            : nozzle      ? "Block " + the(cap)
                          : "Cap the line behind " + the(cap);
    if (test.setting.hole > 0.0)
      text += fmt::format(" with the plate that has a {} hole", plate_size(test.setting.hole));
  }
  if (taken) text += (test.setting.cap ? " and " : "") + off_phrase(line, test);
  if (test.effort >= 0.5)
    text += fmt::format(" ({})", counted(static_cast<std::size_t>(std::lround(test.effort)), "joint"));
  const std::string others = test.setting.tips.size() > 1 ? others_phrase(line, test.setting) : "";
  if (test.standing && taken && !others.empty()) text += ',';
  text += others;
  return test.standing ? text + ',' : text;
}

}  // namespace

std::string setting_phrase(const line::Line& line, const hunt::Setting& setting) {
  std::string text;
  if (setting.cap) {
    const line::Element& cap = line.elements[*setting.cap];
    text = cap.kind == line::Kind::nozzle ? "with " + the(cap) + " blocked" : "capped behind " + the(cap);
    if (setting.hole > 0.0) text += fmt::format(" with a {} hole", plate_size(setting.hole));
  }
  std::vector<std::string> off;
  for (const std::size_t i : setting.off) off.push_back(the(line.elements[i]));
  if (!off.empty()) text += (text.empty() ? "without " : " and without ") + listed(off);
  return text.empty() ? state_phrase(setting.tips) : text;
}

std::string dial_name(const line::Line& line, const hunt::Dial& dial) {
  const std::string at = the(line.elements[dial.at]);
  return dial.instrument == Instrument::vacuum    ? "the gauge at " + at
         : dial.instrument == Instrument::plugged ? "the gauge in the plug"
         : dial.instrument == Instrument::current ? "the ammeter of " + at
                                                  : "the flow into " + at;
}

std::string test_sentence(const line::Line& line, const NextTest& test, const Look& look) {
  const bool whole = !test.setting.cap && test.setting.off.empty();
  const std::string some = whole ? blocked_phrase(line, test) : "";
  const std::string text = !some.empty() ? some
                           : whole       ? "Leave the line whole " + state_phrase(test.setting.tips)
                                         : done_phrase(line, test);
  std::vector<std::string> dials;
  for (const hunt::Dial& dial : test.dials)
    dials.push_back(fmt::format("{} ({}about {})", dial_name(line, dial), dials.empty() ? "expect " : "",
                                value(dial.instrument, dial.expected, look)));
  return text + " and read " + listed(dials) + ".";
}

std::string look_alikes_sentence(const line::Line& line, const Hunt& hunt, const hunt::LookAlikes& group,
                                 const Look& look) {
  std::string text = "Look-alikes: " + listed(names(line, hunt, group.elements)) + ".";
  const bool next = group.test && hunt::further_test(hunt) && group.test->setting == hunt.next.front().setting;
  const bool two = group.elements.size() == 2;  // of more than two one test rarely parts all
  if (next) return text + (two ? " The next test tells them apart." : " The next test tells most of which it is.");
  if (group.test && hunt::further_test(hunt))
    return text +
           (two ? " Only to tell them apart (the next test tells more of the whole line): "
                : " What tells most of which of them it is (the next test tells more of the whole line): ") +
           test_sentence(line, *group.test, look);
  if ((hunt.with_plug_gauge && !hunt::further_test(hunt)) || group.test) return text;
  return text + (hunt::further_test(hunt) ? " No single test tells all of them apart."
                                          : " No test on this line would tell them apart; exchange them one by one.");
}

std::string loose_gauge_sentence(const line::Line& line, const Hunt& hunt, const Look& look) {
  if (!hunt.with_plug_gauge || !hunt::further_test(hunt)) return "";
  if (hunt.next.front().dials.front().instrument == Instrument::plugged) return "";  // it was asked for just now
  return "A loose gauge in the plug would tell more: " + test_sentence(line, *hunt.with_plug_gauge, look);
}

}  // namespace airtally::report
