#include "report/page/data_table.hpp"

#include <utility>

namespace airtally::report::page {

Cell words(std::string text) { return {std::move(text), std::nullopt, false, 0.0, false}; }
Cell measured(double si, std::string text) { return {std::move(text), si, false, 0.0, false}; }
Cell vacuum_cell(double pa, double top, bool gain) { return {"", pa, true, top, gain}; }
Cell nothing() { return words("-"); }

namespace {

void table_head(Markup& out, const DataTable& table, const Units& units) {
  out.open("thead").open("tr");
  for (const DataColumn& column : table.columns) {
    out.open("th", {{"scope", "col"}}).text(column.head);
    if (column.vacuum || !column.unit.empty()) {
      out.open("span", {{"class", "unit"}}).text(" ");
      if (column.vacuum)
        units.name(out, "span");
      else
        out.text(column.unit);
      out.close();
    }
    out.close();
  }
  out.close().close();
}

void cell(Markup& out, const DataColumn& column, const Cell& cell, const Units& units) {
  Attributes attributes;
  if (cell.si) {
    attributes.push_back({"class", "number"});
    attributes.push_back({"data-si", exact(*cell.si)});
  }
  if (!column.key.empty()) attributes.push_back({"data-key", column.key});
  if (cell.vacuum)
    units.vacuum(out, "td", cell.si.value_or(0.0), cell.top, cell.gain, attributes);
  else
    out.element("td", cell.text, attributes);
}

}  // namespace

void write(Markup& out, const DataTable& table, const Units& units) {
  // Wide tables scroll by themselves; who has no mouse must be able to reach that.
  out.open("div", {{"class", "scroll"}, {"tabindex", "0"}, {"role", "region"}, {"aria-label", table.caption}});
  out.open("table").element("caption", table.caption);
  table_head(out, table, units);
  out.open("tbody");
  for (const DataTable::Row& row : table.rows) {
    out.open("tr", row.strong ? Attributes{{"class", "strong"}, {"data-name", row.name}}
                              : Attributes{{"data-name", row.name}});
    out.element("th", row.name, {{"scope", "row"}});
    for (std::size_t k = 0; k < row.cells.size(); ++k) cell(out, table.columns.at(k + 1), row.cells[k], units);
    out.close();
  }
  out.close().close().close();
}

}  // namespace airtally::report::page
