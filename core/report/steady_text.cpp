#include <algorithm>
#include <cmath>

#include "gas/air.hpp"
#include "line/curves.hpp"
#include "line/shut_valve.hpp"
#include "report/outline.hpp"
#include "report/shut_words.hpp"
#include "report/table.hpp"
#include "report/text.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "study/need.hpp"

namespace airtally::report {
namespace {

using solve::SteadyAnswer;
using solve::Tip;
using solve::TipState;

std::vector<TipState> states_of(const SteadyAnswer& answer) {
  std::vector<TipState> states;
  states.reserve(answer.tips.size());
  for (const Tip& tip : answer.tips) states.push_back(tip.state);
  return states;
}

/// Whether all tips have the same vacuum as far as it is shown.
bool alike(const SteadyAnswer& answer, const Look& look) {
  return std::all_of(answer.tips.begin(), answer.tips.end(), [&](const Tip& tip) {
    return vacuum(look, tip.tip_vacuum()) == vacuum(look, answer.tips.front().tip_vacuum());
  });
}

const Tip& weakest(const SteadyAnswer& answer) { return answer.tips[study::weakest_tip(answer)]; }

/// "the tip gets 41.2 kPa", or the range of several.
std::string tips_clause(const line::Line& line, const SteadyAnswer& answer, const Look& look) {
  const auto weaker = [](const Tip& a, const Tip& b) { return a.tip_vacuum() < b.tip_vacuum(); };
  const auto high = std::max_element(answer.tips.begin(), answer.tips.end(), weaker);
  const Tip& low = weakest(answer);
  const Scale scale = vacuum_scale(look, high->tip_vacuum());
  if (answer.tips.size() == 1) return "the tip gets " + scale.text(low.tip_vacuum());
  const std::string all = "the " + std::to_string(answer.tips.size()) + " tips get ";
  if (alike(answer, look)) return all + scale.text(low.tip_vacuum()) + " each";
  return all + scale.number(low.tip_vacuum()) + " to " + scale.text(high->tip_vacuum()) + ", " +
         name(line, low.element) + " the least";
}

constexpr double least_told =
    1e-9 / 60.0 * gas::free_air_density;  ///< [kg/s]: 0.001 mL/min, the least that flow() tells

/// Behind a valve whose release port blows, nothing is lost on the way: the tip is cut off from what pulls.
std::string blown_sentence(const line::Line& line, const SteadyAnswer& answer, const solve::SourceState& strongest,
                           const Look& look) {
  double out = 0.0;
  for (const Tip& tip : answer.tips) out += std::max(0.0, -tip.flow);
  return " That is above the room's pressure: a valve blows air in" +
         (out > 0.0 ? ", " + flow(out) + " of it out at the " + (answer.tips.size() == 1 ? "tip" : "tips")
                    : std::string()) +
         ". " + The(line.elements[strongest.element]) + " pulls " + vacuum(look, strongest.vacuum) +
         " on its own side of it.";
}

/// " Its motor draws 384.0 mA.", of all sources whose current the file knows; "" where it knows none.
std::string motors(const line::Line& line, const SteadyAnswer& answer) {
  std::vector<std::pair<std::size_t, double>> known;
  double most = 0.0;
  for (const auto& source : answer.sources)
    if (const auto current =
            line::current_at(line.elements[source.element], line.site, line.site.pressure - source.vacuum)) {
      known.emplace_back(source.element, *current);
      most = std::max(most, *current);
    }
  if (known.empty()) return "";
  const Scale scale = current_scale(most);
  if (answer.sources.size() == 1) return " Its motor draws " + scale.text(known.front().second) + '.';
  std::vector<std::string> parts;
  for (const auto& [source, current] : known)
    parts.push_back(scale.text(current) + " (" + the(line.elements[source]) + ')');
  return (parts.size() == 1 ? " The motor draws " : " The motors draw ") + listed(parts) + '.';
}

}  // namespace

std::string steady_verdict(const line::Line& line, const SteadyAnswer& answer, const Look& look) {
  const std::vector<TipState> states = states_of(answer);
  std::string text = capital(state_phrase(states)) + ", " + tips_clause(line, answer, look) + ".";
  const auto strongest = std::max_element(answer.sources.begin(), answer.sources.end(),
                                          [](const auto& a, const auto& b) { return a.vacuum < b.vacuum; });
  const Tip& weak = weakest(answer);
  if (weak.tip_vacuum() < -1.0) return text + blown_sentence(line, answer, *strongest, look) + motors(line, answer);
  const auto shut = line::shut_valve(line, line::topology(line), weak.element);
  if (shut && weak.tip_vacuum() < 0.01 * strongest->vacuum)
    return text + ' ' + stands_shut(line.elements[*shut]) + ", so " +
           (answer.tips.size() == 1 ? std::string("the tip") : the(line.elements[weak.element])) + " has none of the " +
           vacuum(look, strongest->vacuum) + " that " + the(line.elements[strongest->element]) + " pulls. " +
           open_it(line.elements[*shut]) + motors(line, answer);
  const double lost = std::max(0.0, strongest->vacuum - weak.tip_vacuum());
  text += ' ' + The(line.elements[strongest->element]) + " pulls " + vacuum(look, strongest->vacuum) + ", and " +
          vacuum(look, lost) + " of that is lost on the way to " +
          (answer.tips.size() == 1 ? "the tip."
           : alike(answer, look)   ? "each tip."
                                   : name(line, weakest(answer).element) + ".");
  double leaks = 0.0, taken = 0.0, in = 0.0;
  for (const auto& element : answer.elements) leaks += element.leak;
  for (const auto& source : answer.sources) taken += source.flow;
  for (const Tip& tip : answer.tips) in += std::max(0.0, tip.flow);
  if (std::max({taken, leaks, in}) < least_told)
    return text + " Nothing flows: no air comes in anywhere." + motors(line, answer);
  text += " Of the " + flow(taken) + " of free air that " +
          (answer.sources.size() == 1 ? "it takes, " : "the sources take, ") +
          (leaks > 0.0 ? flow(leaks) : std::string("nothing")) + " comes in through leaks and " +
          (in > 0.0 ? flow(in) : std::string("nothing")) + (answer.tips.size() == 1 ? " at the tip." : " at the tips.");
  return text + motors(line, answer);
}

namespace {

std::string elements_table(const line::Line& line, const SteadyAnswer& answer, const Look& look) {
  double vacuum = 0.0, drop = 0.0, most = 0.0, leak = 0.0;
  for (const auto& e : answer.elements) {
    vacuum = std::max(vacuum, std::abs(e.vacuum));
    drop = std::max(drop, std::abs(e.drop));
    most = std::max(most, std::abs(e.flow));
    leak = std::max(leak, e.leak);
  }
  const Scale vacuums = vacuum_scale(look, vacuum), drops = vacuum_scale(look, drop);
  const Scale flows = flow_scale(most), leaks = leak_scale(leak);
  Table table({{"element", "", true},
               {"vacuum", vacuums.unit()},
               {"drop", drops.unit()},
               {"flow", flows.unit()},
               {"leak", leaks.unit()}});
  std::vector<Span> steps;
  for (const OutlineRow& row : outline(line::topology(line), look.style)) {
    const auto& e = answer.elements.at(row.element);
    const line::Kind kind = line.elements[row.element].kind;
    const bool drops_here = !line::is_source(kind) && !line::is_place(kind);
    table.add({row.branch + name(line, row.element), vacuums.number(e.vacuum), drops_here ? drops.number(e.drop) : "-",
               flows.number(e.flow), e.leak > 0.0 ? leaks.number(e.leak) : "-"});
    steps.push_back({0.0, vacuum > 0.0 ? e.vacuum / vacuum : 0.0});
  }
  table.draw(std::move(steps));
  return table.text(look.style);
}

std::string tips_table(const line::Line& line, const SteadyAnswer& answer, const Look& look) {
  double vacuum = 0.0, most = 0.0;
  for (const Tip& tip : answer.tips) {
    vacuum = std::max({vacuum, tip.vacuum, tip.mouth_vacuum});
    most = std::max(most, std::abs(tip.flow));
  }
  const Scale vacuums = vacuum_scale(look, vacuum), flows = flow_scale(most);
  Table table({{"tip", "", true},
               {"state", "", true},
               {"behind it", vacuums.unit()},
               {"at its mouth", vacuums.unit()},
               {"flow", flows.unit()}});
  for (const Tip& tip : answer.tips)
    table.add({name(line, tip.element), tip.state == TipState::part ? "part on" : std::string(word(tip.state)),
               vacuums.number(tip.vacuum), tip.state == TipState::open ? "-" : vacuums.number(tip.mouth_vacuum),
               flows.number(tip.flow)});
  table.merge_alike(all_tips(answer.tips.size()));
  return table.text(look.style);
}

}  // namespace

std::string steady_text(const line::Line& line, const SteadyAnswer& answer, const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(steady_verdict(line, answer, look)) + '\n' + elements_table(line, answer, look) + '\n' +
         tips_table(line, answer, look);
  const std::string how =
      "Vacuum is below the room, at the element's end towards the tip. Flow and leak are free air. "
      "Bars: vacuum.";
  out += '\n';
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  out += paragraph("Next, what each element costs the tip:") + "    airtally rank " + typed_line(line, look.changes) +
         '\n';
  return out;
}

}  // namespace airtally::report
