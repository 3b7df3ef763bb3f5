#include "read/angles_file.hpp"

#include <fmt/format.h>

#include "read/columns_private.hpp"
#include "read/text_file_private.hpp"
#include "read/toml_file_private.hpp"
#include "read/turn_limits_private.hpp"

namespace airtally::read {
namespace {

constexpr std::size_t most_of_angles = 20;

class AnglesReader {
 public:
  explicit AnglesReader(std::string name) : name_(std::move(name)) {}

  std::vector<double> read(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    while (!text.empty() && complaints_.size() < most_of_angles && !stopped_) {
      const std::size_t end = std::min(text.find('\n'), text.size());
      const std::string_view row = text.substr(0, end);
      text.remove_prefix(std::min(end + 1, text.size()));
      ++row_;
      const std::string_view content = bare(row);
      if (content.empty() || content.front() == '#') continue;
      if (!unit_)
        read_header(row);
      else
        read_row(row);
    }
    if (complaints_.empty() && angles_.empty()) complain(0, "no angle is here; give a row for every placement.");
    if (!complaints_.empty()) throw BadInput(std::move(complaints_));
    return std::move(angles_);
  }

 private:
  void complain(int column, std::string sentence) {
    complaints_.push_back({Position{name_, column == 0 ? 0 : row_, column}, std::move(sentence)});
  }

  void read_header(std::string_view row) {
    separator_ = separator_of(row);
    const std::vector<Cell> cells = cells_of(row, separator_);
    columns_ = cells.size();
    for (std::size_t i = 0; i < cells.size() && !unit_; ++i) {
      const units::Unit* unit = unit_in(cells[i].text);
      if (unit == nullptr || unit->dimension != units::Dimension::angle) continue;
      unit_ = unit;
      column_ = i;
    }
    if (unit_) return;
    complain(1, "no column with a unit of angle is here; the first row must name the columns, such as \"angle_deg\".");
    stopped_ = true;
  }

  void read_row(std::string_view row) {
    const std::vector<Cell> cells = cells_of(row, separator_);
    if (auto extra = extra_cell(cells, columns_, separator_)) {
      stopped_ = true;
      return complain(extra->column, std::move(extra->sentence));
    }
    const Cell cell = column_ < cells.size() ? cells[column_] : Cell{{}, static_cast<int>(row.size()) + 1};
    const std::optional<double> value = number_in(cell.text, separator_ != ',');
    if (!value) return complain(cell.column, fmt::format("'{}' is no angle.", cell.text));
    const double angle = units::to_si(*value, *unit_);
    if (!(angle >= limits::turn.low && angle <= limits::turn.high))
      return complain(cell.column, fmt::format("'{}' must be an angle of {}.", cell.text, limits::turn.words));
    angles_.push_back(angle);
  }

  std::string name_;
  const units::Unit* unit_ = nullptr;
  std::size_t column_ = 0, columns_ = 0;
  char separator_ = ',';
  int row_ = 0;
  bool stopped_ = false;
  std::vector<double> angles_;
  std::vector<Complaint> complaints_;
};

}  // namespace

std::vector<double> read_angles_text(std::string_view text, const std::string& name) {
  return AnglesReader(name).read(text);
}

std::vector<double> read_angles(const std::filesystem::path& file) {
  return read_angles_text(text_of(file), file.string());
}

}  // namespace airtally::read
