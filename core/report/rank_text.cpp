#include <algorithm>
#include <cmath>

#include "report/shut_words.hpp"
#include "report/table.hpp"
#include "report/text.hpp"
#include "report/trial.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::ElementCost;
using study::Objective;
using study::Ranking;

const ElementCost* worst_by(const Ranking& ranking, double ElementCost::*what) {
  const auto worst = std::max_element(ranking.elements.begin(), ranking.elements.end(),
                                      [what](const auto& a, const auto& b) { return a.*what < b.*what; });
  return worst == ranking.elements.end() || !((*worst).*what > 0.0) ? nullptr : &*worst;
}

/// Which half of the element to blame, from its two gains.
std::string half(const ElementCost& worst, const Scale& scale) {
  if (worst.leak_gain <= 0.0 && worst.restriction_gain <= 0.0) return "";
  const bool leak = worst.leak_gain >= worst.restriction_gain;
  return leak ? " Sealing its leak alone would win " + scale.text(worst.leak_gain) + "."
              : " Its restriction is to blame: wide open, it would win " + scale.text(worst.restriction_gain) + ".";
}

std::string cost_sentence(const line::Line& line, const Ranking& ranking, const Scale& scale) {
  const ElementCost* worst = worst_by(ranking, &ElementCost::fair_share);
  const std::string tip = ranking.tip == solve::TipState::open      ? "the open tip"
                          : ranking.tip == solve::TipState::blocked ? "the blocked tip"
                                                                    : "the tip";
  if (worst == nullptr || ranking.total_loss <= 0.0)
    return "Nothing on the way costs " + tip + " any vacuum: it has all the " + scale.text(ranking.ideal_vacuum) +
           " that the pump gives it.";
  constexpr double little = 0.02;  // of what the tip could have: nobody takes a line apart for it
  if (ranking.total_loss < little * ranking.ideal_vacuum)
    return "Little is lost on the way: " + tip + " has " + scale.text(ranking.tip_vacuum) + " of the " +
           scale.text(ranking.ideal_vacuum) + " that it would have with no leak and no restriction. The most of it, " +
           scale.text(worst->fair_share) + ", goes to " + the(line.elements[worst->element]) + ".";
  std::string text = The(line.elements[worst->element]) + " costs " + tip + ' ';
  // An excess that print does not show is no news, and may be the solver's last digit.
  if (worst->fair_share <= ranking.total_loss || scale.number(worst->fair_share) == scale.number(ranking.total_loss))
    text += scale.number(worst->fair_share) + " of the " + scale.text(ranking.total_loss) + " it lacks.";
  else  // some elements have negative shares: they throttle the air that comes in elsewhere
    text += scale.text(worst->fair_share) +
            "; elements that keep out the air of other branches give some of it back, so " + "that it lacks " +
            scale.text(ranking.total_loss) + " in all.";
  return text + half(*worst, scale) + " The tip has " + scale.text(ranking.tip_vacuum) +
         "; with no leak and no restriction it would have " + scale.text(ranking.ideal_vacuum) + ".";
}

/// Where a valve stands shut before the tip: that, and no element, is why it has no vacuum.
std::string shut_sentence(const line::Line& line, const Ranking& ranking, const Scale& scale) {
  const auto shut = valve_to_open(ranking);
  if (!shut) return "";
  const line::Element& valve = line.elements[*shut];
  return stands_shut(valve) + ", so the tip has none of the " + scale.text(ranking.source_vacuum) +
         " that the pump has, and no element beyond it is to blame. " + open_it(valve);
}

std::string hold_sentence(const line::Line& line, const Ranking& ranking, const Scale& scale) {
  if (!ranking.needed_vacuum) return "";
  if (!ranking.why_not_closed.empty())
    return "Nothing done to the line lets it hold: " + clean(ranking.why_not_closed) +
           ". As if the part did close it, otherwise: ";
  const bool unsure = line.part && !line.part->gap.is_exact();
  const std::string gap =
      unsure ? " at the widest gap of " + units::show_fitting(line.part->gap.high, units::Dimension::length, 2) : "";
  const double spare = ranking.tip_vacuum - *ranking.needed_vacuum;
  return "The part needs " + scale.text(*ranking.needed_vacuum) + " and the tip has " + scale.text(ranking.tip_vacuum) +
         gap + (spare >= 0.0 ? ": " + scale.text(spare) + " to spare. " : ": " + scale.text(-spare) + " too little. ");
}

std::string settle_sentence(const line::Line& line, const Ranking& ranking) {
  const ElementCost* worst = worst_by(ranking, &ElementCost::reach_gain);
  if (worst == nullptr) return "No element keeps the tip waiting: it settles in " + time(ranking.settle) + ". ";
  return The(line.elements[worst->element]) +
         " keeps the tip waiting longest: without its leak and restriction, today's "
         "vacuum would be there " +
         time(worst->reach_gain) + " sooner than the " + time(ranking.settle) + " it takes. ";
}

}  // namespace

std::string rank_verdict(const line::Line& line, const Ranking& ranking, const Look& look) {
  const Scale scale = vacuum_scale(
      look, std::max({ranking.total_loss, ranking.tip_vacuum, ranking.shut ? ranking.source_vacuum : 0.0}));
  if (std::string shut = shut_sentence(line, ranking, scale); !shut.empty()) return shut;
  std::string text;
  if (ranking.objective == Objective::hold) text += hold_sentence(line, ranking, scale);
  if (ranking.objective == Objective::settle) text += settle_sentence(line, ranking);
  return text + cost_sentence(line, ranking, scale);
}

namespace {

struct Largest {
  double leak = 0.0, vacuum = 0.0, time = 0.0, leaks = 0.0;
};

Largest largest(const Ranking& ranking) {
  Largest top{0.0, std::abs(ranking.total_loss), 0.0, 0.0};
  for (const ElementCost& cost : ranking.elements) {
    top.leak = std::max(top.leak, cost.leak);
    top.leaks += cost.leak;
    top.vacuum = std::max({top.vacuum, std::abs(cost.leak_gain), std::abs(cost.restriction_gain)});
    top.time = std::max(top.time, std::abs(cost.reach_gain));
  }
  return top;
}

/// The fair shares end to end, so that they are seen to add up to the whole loss, which comes last.
std::vector<Span> adding_up(const Ranking& ranking) {
  double sum = 0.0, most = ranking.total_loss;
  std::vector<Span> shares;
  for (const ElementCost& cost : ranking.elements) {
    shares.push_back({sum, sum + cost.fair_share});
    sum += cost.fair_share;
    most = std::max(most, sum);
  }
  shares.push_back({0.0, ranking.total_loss});
  for (Span& share : shares) share = most > 0.0 ? Span{share.from / most, share.to / most} : Span{};
  return shares;
}

std::string costs_table(const line::Line& line, const Ranking& ranking, const Look& look) {
  const Largest top = largest(ranking);
  const Scale vacuums = vacuum_scale(look, top.vacuum), leaks = leak_scale(top.leaks);
  const Scale times = time_scale(top.time);
  const bool timed = top.time > 0.0;
  std::vector<Column> columns{{"element", "", true},
                              {"leak", leaks.unit()},
                              {"no leak", vacuums.unit()},
                              {"no drop", vacuums.unit()},
                              {"fair share", vacuums.unit()}};
  if (timed) columns.push_back({"sooner by", times.unit()});
  Table table(columns);
  bool first = true;
  for (const ElementCost& cost : ranking.elements) {
    table.add({name(line, cost.element), cost.leak > 0.0 ? leaks.number(cost.leak) : "-",
               cost.leak > 0.0 ? vacuums.gain(cost.leak_gain) : "-",
               cost.restriction_gain != 0.0 ? vacuums.gain(cost.restriction_gain) : "-",
               cost.fair_share != 0.0 ? vacuums.number(cost.fair_share) : "-",
               cost.reach_gain != 0.0 ? times.number(cost.reach_gain) : "-"},
              first);
    first = false;
  }
  table.draw(adding_up(ranking));
  table.rule();
  table.add({"the whole line", leaks.number(top.leaks), "", "", vacuums.number(ranking.total_loss)});
  return table.text(look.style);
}

/// How to prove it. A restriction takes nothing where no air flows, so that with the end blocked no gauge shows it.
std::string next_step(const line::Line& line, const Ranking& ranking, const Look& look) {
  if (shows_in_flow_alone(ranking))
    return paragraph(
               "Next: prove it on the bench. With the end blocked no air flows and no restriction shows: read with the "
               "tip open, or a drilled plate at the end. This asks for such readings, one after the other, and says "
               "what they mean:") +
           "    airtally hunt --bench " + typed_file(line) + '\n';
  const bool gauge = std::any_of(line.elements.begin(), line.elements.end(),
                                 [](const line::Element& e) { return e.gauge.has_value(); });
  const bool ammeter = std::any_of(line.elements.begin(), line.elements.end(),
                                   [](const line::Element& e) { return e.pump && !e.pump->current.empty(); });
  return paragraph(std::string("Next: prove it on the bench. This prints the ") +
                   (gauge     ? "gauge reading"
                    : ammeter ? "ammeter's reading"
                              : "vacuum") +
                   " to expect behind every joint, with blanks for yours:") +
         "    airtally strip " + typed_line(line, look.changes) + " --sheet\n";
}

std::string legend(const Ranking& ranking, const Look& look) {
  std::string text =
      "no leak, no drop: what the tip would win if this element alone did not leak, or did not restrict. "
      "fair share: its part of the whole loss; the shares add up, as the bars do.";
  if (largest(ranking).time > 0.0) text += " sooner by: time to today's settled vacuum, won without both.";
  if (!ranking.exact) {
    double error = 0.0;
    for (const ElementCost& cost : ranking.elements) error = std::max(error, cost.fair_share_error);
    text += " The shares were sampled; their standard error is " + at_most(vacuum(look, error)) + ".";
  }
  return text;
}

}  // namespace

std::string rank_text(const line::Line& line, const Ranking& ranking, const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  const bool several = line::all_of(line, line::Kind::nozzle).size() > 1;
  std::string text = rank_verdict(line, ranking, look);
  if (several) text += " (The tip judged is " + name(line, ranking.tip_element) + ".)";
  out += paragraph(text) + '\n' + costs_table(line, ranking, look) + '\n';
  for (const std::string& row : wrap(legend(ranking, look), 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : ranking.notes) out += paragraph("Note: " + note, 80, 2);
  return out + '\n' + next_step(line, ranking, look) +
         paragraph(bench_cautions(line));
}

}  // namespace airtally::report
