#include <algorithm>
#include <cmath>

#include "report/said_in.hpp"
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
using study::Ranking;

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

/// The row of the air that comes in where no element is: "under the parts".
std::string parts_row(const line::Line& line, const std::string& way) {
  return way + (line::all_of(line, line::Kind::nozzle).size() > 1 ? " the parts" : " the part");
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
  // Its own digits: a hundred times what the leaks let in would have two too many.
  const auto at_parts = [&](const char* way, double flow) {
    if (flow > 0.0) table.add({parts_row(line, way), leak_scale(flow).number(flow)});
  };
  at_parts("under", ranking.under_parts);
  at_parts("through", ranking.through_parts);
  return table.text(look.style);
}

/// How to prove it. A restriction takes nothing where no air flows, so that with the end blocked no gauge shows it.
std::string next_step(const line::Line& line, const Ranking& ranking, bool strip_tells, const Look& look) {
  if (shows_in_flow_alone(ranking))
    return paragraph(
               "Next: prove it on the bench. With the end blocked no air flows and no restriction shows: read with the "
               "tip open, or a drilled plate at the end. This asks for such readings, one after the other, and says "
               "what they mean:") +
           "    airtally hunt --bench " + typed_file(line) + '\n';
  if (!strip_tells && !valve_to_open(ranking))
    return paragraph(
               "Next: prove it on the bench. Capped behind one element after another no step of this line is big "
               "enough for its instruments: this asks for readings that do show it, one after the other, and says what "
               "they mean:") +
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
  if (ranking.under_parts > 0.0) text += " under: air that comes in between rim and part.";
  if (ranking.through_parts > 0.0) text += " through: air that comes in through a porous part.";
  if (ranking.under_parts > 0.0 || ranking.through_parts > 0.0) text += " It is no element's, and in no share.";
  if (!ranking.exact) {
    double error = 0.0;
    for (const ElementCost& cost : ranking.elements) error = std::max(error, cost.fair_share_error);
    text += " The shares were sampled; their standard error is " + at_most(vacuum(look, error)) + ".";
  }
  return text;
}

}  // namespace

std::string rank_text(const line::Line& line, const Ranking& ranking, const Look& look, bool strip_tells) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  const bool several = line::all_of(line, line::Kind::nozzle).size() > 1;
  std::string text = rank_verdict(line, ranking, look);
  if (several) text += " (The tip judged is " + name(line, ranking.tip_element) + ".)";
  out += paragraph(text) + '\n' + costs_table(line, ranking, look) + '\n';
  for (const std::string& row : wrap(legend(ranking, look), 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : ranking.notes) out += paragraph("Note: " + said_in(look, note), 80, 2);
  return out + '\n' + next_step(line, ranking, strip_tells, look) + paragraph(bench_cautions(line));
}

}  // namespace airtally::report
