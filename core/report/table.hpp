#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "report/bar.hpp"
#include "report/style.hpp"

namespace airtally::report {

/// One column: what it says and in which unit. Numbers stand on the right, words on the left.
struct Column {
  std::string head;       ///< what it says
  std::string unit = {};  ///< under the head; empty where there is none
  bool words = false;     ///< on the left, and cut when the table is too wide
};

/// A table for the terminal, aligned by the width that its text takes there.
class Table {
 public:
  /// Without rows yet; one column at least.
  explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}

  /// A row, a cell per column; missing cells are empty. `marked` makes it stand out where colours may be used.
  void add(std::vector<std::string> cells, bool marked = false);
  /// Makes one row called `name` of all rows if there are several and they differ in nothing but their first cell.
  void merge_alike(const std::string& name);
  /// Bars behind the rows, one each from the first on (rules have none), as wide as the room to the right allows, up to
  /// 32 columns; none where the table leaves less than ten.
  void draw(std::vector<Span> bars) { bars_ = std::move(bars); }
  /// A line across, as above a total.
  void rule() { rows_.push_back({{}, false, true}); }

  /// The table, at most `columns` wide as long as its numbers alone are not wider: columns of words give way, the
  /// widest first, down to ten columns each. No line ends in a space.
  std::string text(const Style& style, std::size_t columns = 80) const;

 private:
  struct Row {
    std::vector<std::string> cells;
    bool marked = false;
    bool rule = false;
  };
  std::vector<std::size_t> widths(std::size_t columns) const;

  std::vector<Column> columns_;
  std::vector<Row> rows_;
  std::vector<Span> bars_;
};

}  // namespace airtally::report
