#include "report/sweep.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/bands_text.hpp"
#include "report/table.hpp"
#include "report/width.hpp"

namespace airtally::report {
namespace {

/// "-5 mm" and "+3.1": what begins like a formula and is none.
bool signed_number(const std::string& cell) {
  const auto plain = [](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '.' || c == ' ' ||
           c == '%';
  };
  return cell.size() > 1 && (cell[0] == '-' || cell[0] == '+') && cell[1] >= '0' && cell[1] <= '9' &&
         std::all_of(cell.begin() + 1, cell.end(), plain);
}

/// A cell by RFC 4180. A spreadsheet runs what begins with one of =+-@ as a formula, which a name from somebody's file
/// must not do: an apostrophe before it makes it the text that it is.
std::string csv_field(const std::string& given) {
  std::string cell = clean(given);
  if (cell.find_first_of("=+-@") == 0 && !signed_number(cell)) cell.insert(0, 1, '\'');
  if (cell.find_first_of(",\"") == std::string::npos) return cell;
  std::string text(1, '"');
  for (const char c : cell) {
    if (c == '"') text.push_back(c);
    text.push_back(c);
  }
  text.push_back('"');
  return text;
}

}  // namespace

std::string sweep_text(const std::vector<std::string>& names, const study::Question& question,
                       const std::vector<SweepPoint>& points, const Look& look) {
  // What is set, and of the measures as many as fit beside it, the first first.
  constexpr std::size_t most = 4;
  std::vector<Column> columns;
  for (const std::string& name : names) columns.push_back({clean(name), "", true});
  std::vector<std::size_t> measures;
  for (std::size_t m = 0; m < question.measures.size() && measures.size() < most; ++m)
    if (question.measures[m].shown && !question.measures[m].key.starts_with("worst_") &&
        !question.measures[m].key.starts_with("culprit_"))
      measures.push_back(m);
  std::string head;
  for (std::size_t k = 0; k < measures.size(); ++k) {
    columns.push_back({fmt::format("({})", k + 1)});
    head += fmt::format("{}({}) {}", k == 0 ? "" : ", ", k + 1, clean(question.measures[measures[k]].words));
  }
  Table table(columns);
  std::string troubles;
  for (const SweepPoint& point : points) {
    std::vector<std::string> cells = point.values;
    for (const std::size_t m : measures)
      cells.push_back(point.answers.empty() ? "?" : shown(question.measures[m].quality, point.answers[m], look));
    table.add(cells);
    if (!point.trouble.empty()) troubles += paragraph("No answer: " + point.trouble, 80, 2);
  }
  return paragraph(head + '.') + '\n' + table.text(look.style) + troubles;
}

std::string sweep_csv(const std::vector<std::string>& names, const study::Question& question,
                      const std::vector<SweepPoint>& points) {
  std::string out;
  for (const std::string& name : names) out += csv_field(name) + ',';
  for (std::size_t m = 0; m < question.measures.size(); ++m) {
    const study::Measure& measure = question.measures[m];
    if (measure.time >= 0.0) continue;
    std::string head = measure.key;
    if (!measure.element.empty()) head += ' ' + measure.element;
    if (m > 0) out += ',';
    out += csv_field(head);
  }
  out += '\n';
  for (const SweepPoint& point : points) {
    for (const std::string& value : point.values) out += csv_field(value) + ',';
    for (std::size_t m = 0; m < question.measures.size(); ++m) {
      if (question.measures[m].time >= 0.0) continue;
      if (m > 0) out += ',';
      if (!point.answers.empty() && std::isfinite(point.answers[m])) out += fmt::format("{}", point.answers[m]);
    }
    out += '\n';
  }
  return out;
}

}  // namespace airtally::report
