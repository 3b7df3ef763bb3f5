#include "report/cycle_text.hpp"

#include <algorithm>
#include <cmath>

#include "report/chart.hpp"
#include "report/cycle_timeline.hpp"
#include "report/said_in.hpp"
#include "report/table.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

using study::CycleAnswer;
using study::CycleGain;
using study::HeadCycle;

/// "the valve without its delay"
std::string gain_phrase(const line::Line& line, const CycleGain& gain) {
  return (gain.element ? the(line.elements.at(*gain.element)) + ' ' : std::string()) + gain.what;
}

/// Whether two places have the same vacuum at all times, as far as a drawing of it shows.
bool drawn_alike(const CycleAnswer& answer, std::size_t a, std::size_t b) {
  constexpr double unseen = 10.0;  // Pa: a hundredth of a row and less
  return answer.places[a].gauge == answer.places[b].gauge &&
         std::all_of(answer.samples.begin(), answer.samples.end(), [&](const study::CycleSample& sample) {
           return std::abs(sample.vacuum.at(a) - sample.vacuum.at(b)) < unseen;
         });
}

std::string curves(const line::Line& line, const CycleAnswer& answer, const Look& look) {
  constexpr std::size_t most = 4;
  const Scale times = cycle_scale(answer);
  Chart chart;
  chart.x_unit = times.unit();
  chart.y_unit = std::string(look.vacuum->symbol);
  const units::Unit* second = units::find_unit(chart.x_unit, units::Dimension::time);
  // The slowest head first; the others as far as they can be told apart.
  std::vector<std::size_t> shown{answer.slowest};
  std::vector<std::size_t> like{1};  // per curve: places whose curve it is
  for (std::size_t k = 0; k < answer.places.size(); ++k) {
    if (k == answer.slowest || answer.places[k].source) continue;
    const auto same =
        std::find_if(shown.begin(), shown.end(), [&](std::size_t s) { return drawn_alike(answer, s, k); });
    if (same != shown.end()) {
      ++like[static_cast<std::size_t>(same - shown.begin())];
    } else if (shown.size() < most) {
      shown.push_back(k);
      like.push_back(1);
    }
  }
  for (std::size_t i = 0; i < shown.size(); ++i) {
    const std::size_t k = shown[i];
    const study::CyclePlace& place = answer.places[k];
    const std::string alike = like[i] > 1 ? " and " + std::to_string(like[i] - 1) + " alike" : "";
    Curve c{name(line, place.element) + alike + (place.gauge ? ", gauge" : ", mouth"), {}, {}};
    for (const study::CycleSample& sample : answer.samples) {
      c.x.push_back(units::from_si(sample.time, *second));
      c.y.push_back(units::from_si(sample.vacuum.at(k), *look.vacuum));
    }
    chart.curves.push_back(std::move(c));
  }
  if (const auto& safe = answer.heads.at(answer.slowest).safe_lift) {
    chart.mark = units::from_si(*safe, *second);
    chart.mark_text = "may lift, " + safe_moment(answer, *safe);
  }
  const std::string what = chart.curves.size() == 1 ? "vacuum, " + chart.curves.front().name : "vacuum";
  return look.style.dim(cut(what, 80, look.style.cut_mark())) + '\n' + draw(chart, look.style);
}

std::string moment(const Scale& scale, const std::optional<double>& time) {
  return time ? scale.number(*time) : "never";
}

std::string times_table(const line::Line& line, const CycleAnswer& answer, const Look& look) {
  const Scale times = cycle_scale(answer);
  const std::string unit = times.unit();
  Table table({{"head", "", true},
               {"meets", unit},
               {"may lift", unit},
               {"lifts", unit},
               {"puts down", unit},
               {"release", unit},
               {"lets go", unit},
               {"in all", unit}});
  for (const HeadCycle& head : answer.heads) {
    std::optional<double> all;
    const bool up = takes_up(head);
    if (head.let_go && up) all = std::max(*head.let_go, head.place) - std::min(head.valve_on, head.touch);
    table.add(
        {name(line, head.nozzle), times.number(head.touch),
         head.safe_lift   ? moment_of(answer, head, *head.safe_lift)
         : head.held_from ? "too short"
                          : "never",
         up ? moment_of(answer, head, head.lift) : "-", up ? times.number(head.place) : "-", times.number(head.release),
         head.seat == line::Seat::closed && up ? moment(times, head.let_go) : "-", all ? times.number(*all) : "-"},
        !head.works());
  }
  table.merge_alike(all_tips(answer.heads.size()));
  return table.text(look.style);
}

std::string margins_table(const line::Line& line, const CycleAnswer& answer, const Look& look) {
  double most = 0.0;
  for (const HeadCycle& head : answer.heads)
    most = std::max({most, head.needed_to_travel + std::abs(head.margin_in_travel), head.needed_to_lift});
  const Scale vacuums = vacuum_scale(look, most), times = cycle_scale(answer);
  const std::string unit = vacuums.unit();
  Table table({{"head", "", true},
               {"to lift", unit},
               {"to spare", unit},
               {"to travel", unit},
               {"to spare", unit},
               {"worst at", times.unit()}});
  for (const HeadCycle& head : answer.heads)
    table.add({name(line, head.nozzle), vacuums.number(head.needed_to_lift), vacuums.number(head.margin_at_lift),
               vacuums.number(head.needed_to_travel), vacuums.number(head.margin_in_travel),
               moment_of(answer, head, head.worst_moment)},
              !head.works());
  table.merge_alike(all_tips(answer.heads.size()));
  return table.text(look.style);
}

std::string limits_table(const line::Line& line, const CycleAnswer& answer, const Look& look) {
  constexpr std::size_t most = 6;
  const double least = least_gain(answer);
  std::vector<CycleGain> gains;
  for (const CycleGain& gain : answer.limits)
    if (gain.gain > least && gains.size() < most) gains.push_back(gain);
  if (gains.empty()) return {};
  const Scale times = time_scale(gains.front().gain);
  Table table({{"what would let it lift sooner", "", true}, {"by", times.unit()}});
  for (const CycleGain& gain : gains) table.add({gain_phrase(line, gain), times.number(gain.gain)});
  return table.text(look.style) + '\n';
}

}  // namespace

double least_gain(const CycleAnswer& answer) { return 0.01 * answer.heads.at(answer.slowest).safe_lift.value_or(0.0); }

std::string cycle_cautions(const line::Line& line) {
  const bool blows = std::any_of(line.elements.begin(), line.elements.end(), [](const line::Element& e) {
    return e.valve && e.valve->vent && e.valve->vent->blow_off;
  });
  std::string text =
      "Before you reach in: stop and lock out the moving axes; a head that waits in its cycle moves "
      "without warning.";
  if (blows) text += " Shut off blow-off air and let it out; keep skin and eyes away from it.";
  if (std::any_of(line.elements.begin(), line.elements.end(),
                  [](const line::Element& e) { return e.kind == line::Kind::ejector; }))
    text += " Close the ejector's compressed air and let its pressure out before a hose comes off.";
  return text + " Vacuum lets go when the power fails.";
}

std::string cycle_text(const line::Line& line, const CycleAnswer& answer, const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(cycle_verdict(line, answer, look)) + '\n' + cycle_timeline(line, answer, look) + '\n';
  out += curves(line, answer, look) + '\n' + times_table(line, answer, look) + '\n';
  out += margins_table(line, answer, look) + '\n' + limits_table(line, answer, look);
  const std::string how =
      "may lift: from then on the vacuum that lifting needs is there until the part is put down, and what travel needs "
      "where it begins with the lift. in all: from the command to the valve (or the touch) to letting go. The needs "
      "carry the safety factors that airtally hold prints.";
  for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : answer.notes) out += paragraph("Note: " + clean(said_in(look, note)) + ".", 80, 2);
  return out + paragraph(cycle_cautions(line));
}

}  // namespace airtally::report
