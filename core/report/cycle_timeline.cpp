#include "report/cycle_timeline.hpp"

#include <algorithm>
#include <cmath>

#include "report/safe_side.hpp"
#include "report/table.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

/// In the order in which things of one moment follow from each other.
enum class Sort { command, event, answer, move };

constexpr const char* has_vacuum = "has the vacuum to ";

struct Row {
  double time = 0.0;
  std::vector<std::size_t> elements;
  std::string what;
  Sort sort = Sort::event;
  std::string moment = {};  // as it is printed
};

std::vector<Row> rows_of(const study::CycleAnswer& answer) {
  std::vector<Row> rows;
  for (const study::CycleEvent& e : answer.events)
    if (e.time <= answer.end) rows.push_back({e.time, {e.element}, e.what, Sort::event});
  for (const study::HeadCycle& head : answer.heads) {
    const auto add = [&](double time, const std::string& what, Sort sort) {
      rows.push_back({time, {head.nozzle}, what, sort, moment_of(answer, head, time)});
    };
    if (head.valve) {
      rows.push_back({head.valve_on, {*head.valve}, "is told to open", Sort::command});
      rows.push_back({head.release, {*head.valve}, "is told to close", Sort::command});
    }
    if (head.safe_lift) add(*head.safe_lift, has_vacuum + lift_words(head), Sort::answer);
    if (head.safe_travel && head.safe_travel != head.safe_lift)
      add(*head.safe_travel, std::string(has_vacuum) + "travel", Sort::answer);
    if (!takes_up(head)) {
      add(head.lift, std::string("lacks the vacuum to ") + (head.travels_with_lift ? "lift and travel" : "lift"),
          Sort::answer);
      continue;
    }
    add(head.lift, head.travel == head.lift ? "lifts and travels" : "lifts", Sort::move);
    if (head.travel != head.lift) add(head.travel, "travels", Sort::move);
    if (head.seat == line::Seat::closed) add(head.place, "puts the part down", Sort::move);
    if (head.let_go) add(*head.let_go, "lets the part go", Sort::answer);
  }
  // To a nanosecond: sums of the same moments need not end in the same last digits.
  const auto moment = [](const Row& row) { return std::llround(1e9 * row.time); };
  std::stable_sort(rows.begin(), rows.end(), [&](const Row& a, const Row& b) {
    return moment(a) != moment(b) ? moment(a) < moment(b) : a.sort < b.sort;
  });
  return rows;
}

/// Rows that say the same of several elements at one moment become one.
std::vector<Row> merged(const std::vector<Row>& rows) {
  constexpr double same = 1e-6;  // s
  std::vector<Row> out;
  for (const Row& row : rows) {
    const auto like = std::find_if(out.begin(), out.end(), [&](const Row& other) {
      return other.what == row.what && std::abs(other.time - row.time) <= same;
    });
    if (like == out.end()) {
      out.push_back(row);
    } else if (std::find(like->elements.begin(), like->elements.end(), row.elements[0]) == like->elements.end()) {
      like->elements.push_back(row.elements[0]);
    }
  }
  return out;
}

std::string who(const line::Line& line, const Row& row) {
  if (row.elements.size() > 3) {
    std::string kind(line::word(line.elements.at(row.elements[0]).kind));
    return counted(row.elements.size(), kind) + " each";
  }
  std::vector<std::string> names;
  for (const std::size_t i : row.elements) names.push_back(name(line, i));
  return listed(names) + (names.size() > 1 ? " each" : "");
}

}  // namespace

bool takes_up(const study::HeadCycle& head) { return head.safe_lift || head.margin_at_lift >= 0.0; }

Scale cycle_scale(const study::CycleAnswer& answer) {
  return {*units::find_unit("ms", units::Dimension::time), answer.end < 10.0 ? 1 : 0};
}

std::string safe_moment(const study::CycleAnswer& answer, double time) {
  const Scale scale = cycle_scale(answer);
  return no_less_than(time, units::Dimension::time, scale) + ' ' + scale.unit();
}

std::string moment_of(const study::CycleAnswer& answer, const study::HeadCycle& head, double time) {
  const Scale scale = cycle_scale(answer);
  const bool safe = time == head.safe_lift || time == head.safe_travel;
  return safe ? no_less_than(time, units::Dimension::time, scale) : scale.number(time);
}

std::string lift_words(const study::HeadCycle& head) {
  return head.safe_lift == head.safe_travel && head.needed_to_travel > head.needed_to_lift ? "lift and travel" : "lift";
}

std::string cycle_timeline(const line::Line& line, const study::CycleAnswer& answer, const Look& look) {
  const Scale times = cycle_scale(answer);
  Table table({{"at", times.unit()}, {"", "", true}, {"", "", true}});
  for (const Row& row : merged(rows_of(answer))) {
    const std::string mark = row.sort == Sort::answer ? std::string(look.style.ascii ? "* " : "• ") : "  ";
    table.add({row.moment.empty() ? times.number(row.time) : row.moment, who(line, row), mark + row.what}, false);
  }
  return table.text(look.style);
}

}  // namespace airtally::report
