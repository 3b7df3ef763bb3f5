#include "read/log_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "errors.hpp"
#include "read/columns_private.hpp"
#include "read/log_length_private.hpp"
#include "read/text_file_private.hpp"
#include "units/unit.hpp"

namespace airtally::read {
namespace {

constexpr std::size_t most_complaints = 5;
constexpr const char* header_example =
    "the first row must name the columns with their units, such as \"time_s, vacuum_kPa\" or \"time [ms]; pressure "
    "abs [mbar]\"";

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
  LogReader(std::string name, double ambient, std::size_t least) : ambient_(ambient), least_(least) {
    log_.file = std::move(name);
  }

  line::Log read(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    bool header = true;
    const char line_end = text.find('\n') == text.npos ? '\r' : '\n';  // some old loggers write returns alone
    if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF")) {
      row_ = 1;
      complain(1, "the log is in UTF-16. Save the file as plain text in UTF-8.");
      throw BadInput(std::move(complaints_));
    }
    while (!text.empty() && !stopped_) {
      const std::size_t end = std::min(text.find(line_end), text.size());
      const std::string_view row = text.substr(0, end);
      text.remove_prefix(std::min(end + 1, text.size()));
      ++row_;
      const std::string_view content = bare(row);
      if (content.empty() || content.front() == '#') continue;
      if (header) {
        read_header(row);
        header = false;
      } else {
        read_row(row);
      }
    }
    if (more_bad_rows_ > 0)
      complaints_.back().sentence +=
          fmt::format(" {} more {} can't be used either.", more_bad_rows_, more_bad_rows_ == 1 ? "row" : "rows");
    if (header) complain(0, fmt::format("the file has no rows; {}.", header_example));
    if (complaints_.empty() && log_.time.size() < least_)
      complain(1, fmt::format("the log ends here with {} {} that {} a time and a vacuum; at least {} are needed.",
                              log_.time.size(), log_.time.size() == 1 ? "row" : "rows",
                              log_.time.size() == 1 ? "has" : "have", least_));
    if (complaints_.empty()) judge_length(log_, time_.name);
    if (complaints_.empty()) understand();
    if (!complaints_.empty()) {
      // Within a row the time is judged before the pressure, wherever they stand.
      std::stable_sort(complaints_.begin(), complaints_.end(), [](const Complaint& a, const Complaint& b) {
        return std::pair(a.at.line, a.at.column) < std::pair(b.at.line, b.at.column);
      });
      throw BadInput(std::move(complaints_));
    }
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
    separator_ = separator_of(row);
    const std::vector<Cell> cells = cells_of(row, separator_);
    columns_ = cells.size();
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

  /// Of many rows with mistakes, mostly the same one, the first few are told and the rest counted.
  void read_row(std::string_view row) {
    const std::size_t before = complaints_.size();
    read_cells_of(row);
    if (before < most_complaints || complaints_.size() == before) return;
    complaints_.resize(before);
    ++more_bad_rows_;
  }

  void read_cells_of(std::string_view row) {
    const std::vector<Cell> cells = cells_of(row, separator_);
    if (auto extra = extra_cell(cells, columns_, separator_)) {
      complain(extra->column, std::move(extra->sentence));
      stopped_ = true;
      return;
    }
    const auto cell = [&](const Column& column) {
      return column.index < cells.size() ? cells[column.index] : Cell{{}, static_cast<int>(row.size()) + 1};
    };
    const Cell t = cell(time_), p = cell(pressure_);
    if (gap(t.text) || gap(p.text)) {
      ++log_.gaps;
      return;
    }
    const auto value = [&](const Cell& c, const Column& column) {
      const std::optional<double> read = number_in(c.text, separator_ != ',');
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
    if (auto trouble = row_trouble(log_, time, t.text, time_.name)) {
      complain(t.column, std::move(trouble->sentence));
      stopped_ = trouble->rest_too;
      return;
    }
    log_.time.push_back(time);
    log_.vacuum.push_back(units::to_si(*pressure, *pressure_.unit));
    log_.places.push_back({row_, p.column});
    const double step = units::difference_to_si(last_digit_of(p.text, separator_ != ','), *pressure_.unit);
    log_.step = log_.step > 0.0 ? std::min(log_.step, step) : step;
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
  std::size_t least_;
  line::Log log_;
  std::vector<Complaint> complaints_;
  char separator_ = ',';
  Column time_, pressure_;
  Meaning meaning_ = Meaning::vacuum;
  bool stopped_ = false;
  std::size_t columns_ = 0;
  int row_ = 0, last_row_ = 0;
  std::size_t more_bad_rows_ = 0;
  std::string last_text_;
};

}  // namespace

line::Log read_log_text(std::string_view text, const std::string& name, double ambient, std::size_t least) {
  return LogReader(name, ambient, least).read(text);
}

line::Log read_log(const std::filesystem::path& file, double ambient, std::size_t least) {
  return read_log_text(text_of(file, largest_log), file.string(), ambient, least);
}

}  // namespace airtally::read
