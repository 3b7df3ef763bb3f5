#pragma once
#include <optional>
#include <string>
#include <vector>

#include "report/page/markup.hpp"
#include "report/page/units.hpp"

namespace airtally::report::page {

/// One cell: words, or a number [SI] with the text that shows it. A vacuum's text is made for every unit of the page.
struct Cell {
  std::string text;
  std::optional<double> si;
  bool vacuum = false;
  double top = 0.0;   ///< of a vacuum: the largest that stands near it [Pa]
  bool gain = false;  ///< with "+" before it
};

Cell words(std::string text);
Cell measured(double si, std::string text);
Cell vacuum_cell(double pa, double top, bool gain = false);
/// "-", where there is nothing.
Cell nothing();

struct DataColumn {
  std::string head;
  std::string key;      ///< as in the JSON of the command that gives the same number
  std::string unit;     ///< below the head
  bool vacuum = false;  ///< its unit is the page's
};

/// The numbers behind a picture. The first column holds the rows' names.
struct DataTable {
  std::string caption;
  std::vector<DataColumn> columns;
  struct Row {
    std::string name;
    std::vector<Cell> cells;
    bool strong = false;
  };
  std::vector<Row> rows;
};

void write(Markup& out, const DataTable& table, const Units& units);

}  // namespace airtally::report::page
