#include "report/outline.hpp"

#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

constexpr std::size_t deepest = 24;  // columns: deeper indents lose their middle

struct Signs {
  std::string_view fork, last, through, blank;
};

/// What is still to be written: an element, and the prefixes of its own row and of the rows that follow it.
struct Open {
  std::size_t element;
  std::string own, further;
};

/// Elements that start a run: the sources. They hang on nothing.
std::vector<std::size_t> roots(const line::Topology& topology) {
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < topology.before.size(); ++i)
    if (topology.before[i] == line::none) all.push_back(i);
  return all;
}

/// The branches beyond an element, in reverse, so that a stack gives them back in order.
void push_branches(std::vector<Open>& open, const std::vector<std::size_t>& beyond, const std::string& further,
                   const Signs& signs) {
  if (beyond.size() == 1) {
    open.push_back({beyond.front(), further, further});
    return;
  }
  for (std::size_t k = beyond.size(); k-- > 0;) {
    const bool last = k + 1 == beyond.size();
    open.push_back({beyond[k], further + std::string(last ? signs.last : signs.fork),
                    further + std::string(last ? signs.blank : signs.through)});
  }
}

std::string label(const line::Line& line, std::size_t i) {
  const line::Element& element = line.elements[i];
  std::string text = clean(element.name);
  if (!element.leaks.empty()) text += '*';
  if (element.gauge) text += " (gauge)";
  if (!element.joins.empty()) text += " (joins " + clean(element.joins) + ")";
  return text;
}

}  // namespace

std::vector<OutlineRow> outline(const line::Topology& topology, const Style& style) {
  const Signs signs = style.ascii ? Signs{"|-", "`-", "| ", "  "} : Signs{"├ ", "└ ", "│ ", "  "};
  std::vector<OutlineRow> rows;
  for (const std::size_t root : roots(topology)) {
    std::vector<Open> open{{root, "", ""}};
    while (!open.empty()) {
      const Open here = open.back();
      open.pop_back();
      rows.push_back({here.element, cut(here.own, deepest, style.cut_mark())});
      push_branches(open, topology.beyond[here.element], here.further, signs);
    }
  }
  return rows;
}

std::string drawing(const line::Line& line, const line::Topology& topology, const Style& style, std::size_t columns) {
  const Signs signs = style.ascii ? Signs{"|- ", "`- ", "|  ", "   "} : Signs{"├─ ", "└─ ", "│  ", "   "};
  const std::string link = ' ' + std::string(style.bar()) + ' ';
  std::string out;
  for (const std::size_t root : roots(topology)) {
    std::vector<Open> open{{root, "", ""}};
    while (!open.empty()) {
      const Open start = open.back();
      open.pop_back();
      const std::string further = cut(start.further, deepest, style.cut_mark());
      std::string row = cut(start.own, deepest, style.cut_mark());
      std::size_t here = start.element;
      row += cut(label(line, here), columns - width(row), style.cut_mark());
      // The run up to the next fork, folded where the row is full.
      while (topology.beyond[here].size() == 1) {
        here = topology.beyond[here].front();
        const std::string next = label(line, here);
        if (width(row) + width(link) + width(next) > columns) {
          out += row + '\n';
          row = further;
          row += ' ';
          row += link;
          row += cut(next, columns - width(row), style.cut_mark());
        } else {
          row += link + next;
        }
      }
      out += row + '\n';
      if (!topology.beyond[here].empty()) push_branches(open, topology.beyond[here], start.further, signs);
    }
  }
  return out;
}

}  // namespace airtally::report
