#include "read/log_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>
#include <optional>
#include <sstream>

#include "errors.hpp"
#include "units/unit.hpp"

namespace airtally::read {
namespace {

constexpr std::size_t most_complaints = 20;
constexpr const char* header_example =
    "the first row must name the columns with their units, such as \"time_s, vacuum_kPa\" or \"time [ms]; pressure "
    "abs [mbar]\"";

struct Cell {
  std::string_view text;
  int column = 0;  ///< of its first character, from 1
};

std::string_view trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '"'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

std::vector<Cell> cells_of(std::string_view row, char separator) {
  std::vector<Cell> cells;
  for (std::size_t begin = 0; begin <= row.size();) {
    const std::size_t end = std::min(row.find(separator, begin), row.size());
    const std::string_view cell = trimmed(row.substr(begin, end - begin));
    const std::size_t at = cell.empty() ? begin : static_cast<std::size_t>(cell.data() - row.data());
    cells.push_back({cell, static_cast<int>(at) + 1});
    begin = end + 1;
  }
  return cells;
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

/// The unit that a column's name ends in: "[ms]", "(ms)", "_ms", "/ms", " ms".
const units::Unit* unit_in(std::string_view name) {
  if (name.empty()) return nullptr;
  const char last = name.back();
  std::size_t begin = std::string_view::npos;
  if (last == ']' || last == ')') {
    begin = name.rfind(last == ']' ? '[' : '(');
    if (begin == std::string_view::npos) return nullptr;
    return units::find_unit(trimmed(name.substr(begin + 1, name.size() - begin - 2)));
  }
  begin = name.find_last_of("_/ ");
  return begin == std::string_view::npos ? nullptr : units::find_unit(trimmed(name.substr(begin + 1)));
}

std::optional<double> number(std::string_view text, bool decimal_comma) {
  std::string plain(text);
  if (decimal_comma) std::replace(plain.begin(), plain.end(), ',', '.');
  const char* begin = plain.data();
  const char* const end = begin + plain.size();
  if (begin != end && *begin == '+') ++begin;
  double value = 0.0;
  const auto [stop, error] = std::from_chars(begin, end, value);
  if (error != std::errc{} || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

bool gap(std::string_view text) { return text.empty() || text == "-" || lower(text) == "nan"; }

/// A column in use.
struct Column {
  std::size_t index = 0;
  const units::Unit* unit = nullptr;
  std::string name;
};

enum class Meaning { vacuum, absolute, relative };

class LogReader {
 public:
  LogReader(std::string name, double ambient) : ambient_(ambient) { log_.file = std::move(name); }

  line::Log read(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    bool header = true;
    while (!text.empty() && complaints_.size() < most_complaints) {
      const std::size_t end = std::min(text.find('\n'), text.size());
      const std::string_view row = text.substr(0, end);
      text.remove_prefix(std::min(end + 1, text.size()));
      ++row_;
      const std::string_view content = trimmed(row);
      if (content.empty() || content.front() == '#') continue;
      if (header) {
        read_header(row);
        header = false;
      } else {
        read_row(row);
      }
    }
    if (header) complain(0, fmt::format("the file has no rows; {}.", header_example));
    if (complaints_.empty() && log_.time.size() < 3)
      complain(0,
               fmt::format("{} rows with a time and a vacuum are too few; at least 3 are needed.", log_.time.size()));
    if (complaints_.empty()) understand();
    if (!complaints_.empty()) throw BadInput(std::move(complaints_));
    return std::move(log_);
  }

 private:
  void complain(int column, std::string sentence) {
    Complaint complaint;
    complaint.at = Position{log_.file, column == 0 ? 0 : row_, column};
    complaint.sentence = std::move(sentence);
    complaints_.push_back(std::move(complaint));
  }

  void read_header(std::string_view row) {
    separator_ = row.find('\t') != row.npos ? '\t' : row.find(';') != row.npos ? ';' : ',';
    const std::vector<Cell> cells = cells_of(row, separator_);
    std::optional<Column> time, pressure;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const units::Unit* unit = unit_in(cells[i].text);
      if (!unit) continue;
      const Column column{i, unit, std::string(cells[i].text)};
      if (unit->dimension == units::Dimension::time && !time) time = column;
      if (unit->dimension == units::Dimension::pressure) {
        if (pressure)
          log_.notes.push_back(fmt::format("of several columns of pressure, '{}' was used", pressure->name));
        else
          pressure = column;
      }
    }
    if (!time || !pressure) {
      const char* missing = time ? "no column with a unit of pressure" : "no column with a unit of time";
      complain(1, fmt::format("{} is here; {}.", missing, header_example));
      stopped_ = true;
      return;
    }
    time_ = *time;
    pressure_ = *pressure;
    const std::string name = lower(pressure_.name);
    meaning_ = name.find("abs") != name.npos   ? Meaning::absolute
               : name.find("vac") != name.npos ? Meaning::vacuum
                                               : Meaning::relative;
  }

  void read_row(std::string_view row) {
    if (stopped_) return;
    const std::vector<Cell> cells = cells_of(row, separator_);
    const auto cell = [&](const Column& column) {
      return column.index < cells.size() ? cells[column.index] : Cell{{}, static_cast<int>(row.size()) + 1};
    };
    const Cell t = cell(time_), p = cell(pressure_);
    if (gap(t.text) || gap(p.text)) {
      ++log_.gaps;
      return;
    }
    const auto value = [&](const Cell& c, const Column& column) {
      const std::optional<double> read = number(c.text, separator_ != ',');
      if (!read) complain(c.column, fmt::format("'{}' is no number (column '{}').", c.text, column.name));
      return read;
    };
    const std::optional<double> seconds = value(t, time_), pressure = value(p, pressure_);
    if (!seconds || !pressure) return;
    const double time = units::to_si(*seconds, *time_.unit);
    if (!log_.time.empty() && time <= log_.time.back()) {
      complain(t.column, fmt::format("time {} does not rise: the row in line {} has {}. Sort the rows or cut the log "
                                     "into one recording each.",
                                     t.text, last_row_, last_text_));
      return;
    }
    log_.time.push_back(time);
    log_.vacuum.push_back(units::to_si(*pressure, *pressure_.unit));
    last_row_ = row_;
    last_text_ = std::string(t.text);
  }

  /// Turns what the column holds into vacuum.
  void understand() {
    const auto [least, most] = std::minmax_element(log_.vacuum.begin(), log_.vacuum.end());
    const bool negative = -*least > *most;
    switch (meaning_) {
      case Meaning::vacuum:
        if (negative) {
          log_.notes.push_back(fmt::format("'{}' is negative and was read as pressure below ambient", pressure_.name));
          for (double& v : log_.vacuum) v = -v;
        }
        break;
      case Meaning::absolute:
        for (double& v : log_.vacuum) v = ambient_ - v;
        break;
      case Meaning::relative:
        if (!negative) {
          complain(0, fmt::format("column '{}' is positive, so it is not pressure relative to ambient in a vacuum "
                                  "line; put 'vacuum' or 'abs' in its name, whichever it is.",
                                  pressure_.name));
          return;
        }
        for (double& v : log_.vacuum) v = -v;
        break;
    }
    for (double v : log_.vacuum)
      if (v >= ambient_) {
        complain(0, fmt::format("column '{}' goes down to or below zero absolute pressure (ambient is {:.1f} kPa); is "
                                "its unit or its name right?",
                                pressure_.name, 1e-3 * ambient_));
        return;
      }
  }

  double ambient_;
  line::Log log_;
  std::vector<Complaint> complaints_;
  char separator_ = ',';
  Column time_, pressure_;
  Meaning meaning_ = Meaning::vacuum;
  bool stopped_ = false;
  int row_ = 0, last_row_ = 0;
  std::string last_text_;
};

}  // namespace

line::Log read_log_text(std::string_view text, const std::string& name, double ambient) {
  return LogReader(name, ambient).read(text);
}

line::Log read_log(const std::filesystem::path& file, double ambient) {
  std::ifstream in(file, std::ios::binary);
  std::stringstream text;
  if (std::filesystem::is_directory(file) || !in || !(text << in.rdbuf()))
    throw BadInput({file.string(), 0, 0}, "this log can't be read; does the file exist?");
  return read_log_text(text.str(), file.string(), ambient);
}

}  // namespace airtally::read
