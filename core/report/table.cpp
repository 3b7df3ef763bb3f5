#include "report/table.hpp"

#include <algorithm>
#include <numeric>

#include "report/width.hpp"

namespace airtally::report {
namespace {

constexpr std::size_t gap = 2;  // columns between two columns
constexpr std::size_t least_bar = 10, longest_bar = 32;
constexpr std::size_t least_word = 10;  // a column of words never gets narrower

std::string without_trailing_spaces(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

std::string repeated(std::string_view sign, std::size_t times) {
  std::string out;
  for (std::size_t i = 0; i < times; ++i) out += sign;
  return out;
}

}  // namespace

void Table::add(std::vector<std::string> cells, bool marked) {
  cells.resize(columns_.size());
  rows_.push_back({std::move(cells), marked, false});
}

void Table::merge_alike(const std::string& name) {
  if (rows_.size() < 2) return;
  const auto alike = [this](const Row& row) {
    return !row.rule && std::equal(row.cells.begin() + 1, row.cells.end(), rows_.front().cells.begin() + 1);
  };
  if (columns_.empty() || rows_.front().rule || !std::all_of(rows_.begin(), rows_.end(), alike)) return;
  rows_.resize(1);
  rows_.front().cells.front() = name;
}

std::vector<std::size_t> Table::widths(std::size_t columns) const {
  std::vector<std::size_t> all;
  for (std::size_t c = 0; c < columns_.size(); ++c) {
    std::size_t widest = std::max(width(columns_[c].head), width(columns_[c].unit));
    for (const Row& row : rows_)
      if (!row.rule) widest = std::max(widest, width(row.cells[c]));
    all.push_back(widest);
  }
  const auto total = [&] { return std::accumulate(all.begin(), all.end(), gap * (all.size() - 1)); };
  while (total() > columns) {
    std::size_t widest = columns_.size();
    for (std::size_t c = 0; c < columns_.size(); ++c)
      if (columns_[c].words && all[c] > least_word && (widest == columns_.size() || all[c] > all[widest])) widest = c;
    if (widest == columns_.size()) break;
    --all[widest];
  }
  return all;
}

std::string Table::text(const Style& style, std::size_t columns) const {
  const std::vector<std::size_t> room = widths(columns);
  const auto line = [&](auto cell) {
    std::string out;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      if (c > 0) out += std::string(gap, ' ');
      const std::string fitting = columns_[c].words ? cut(cell(c), room[c], style.cut_mark()) : cell(c);
      out += columns_[c].words ? pad_right(fitting, room[c]) : pad_left(fitting, room[c]);
    }
    return without_trailing_spaces(out);
  };
  std::size_t bar_of_row = 0;
  const std::size_t across = std::accumulate(room.begin(), room.end(), gap * (room.size() - 1));
  const std::string rule = style.dim(repeated(style.bar(), across)) + '\n';
  const bool units = std::any_of(columns_.begin(), columns_.end(), [](const Column& c) { return !c.unit.empty(); });

  std::string out = style.bold(line([&](std::size_t c) { return columns_[c].head; })) + '\n';
  if (units) out += style.dim(line([&](std::size_t c) { return columns_[c].unit; })) + '\n';
  out += rule;
  const std::size_t left = columns > across + gap ? std::min(columns - across - gap, longest_bar) : 0;
  for (const Row& row : rows_) {
    if (row.rule) {
      out += rule;
      continue;
    }
    std::string body = line([&](std::size_t c) { return row.cells[c]; });
    if (left >= least_bar && bar_of_row < bars_.size())
      if (const std::string drawn = bar(bars_[bar_of_row], left, style); !drawn.empty())
        body = pad_right(body, across + gap) + drawn;
    ++bar_of_row;
    out += (row.marked ? style.marked(body) : body) + '\n';
  }
  return out;
}

}  // namespace airtally::report
