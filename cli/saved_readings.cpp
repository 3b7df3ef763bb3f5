#include "saved_readings.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <sstream>
#include <vector>

#include "errors.hpp"
#include "hunt/logs/look_up.hpp"
#include "hunt/readings/cut.hpp"
#include "hunt/readings/impossible.hpp"
#include "line/topology.hpp"
#include "output.hpp"
#include "read/named_file.hpp"
#include "read/readings_file.hpp"
#include "report/words.hpp"
#include "solve/answer.hpp"
#include "toml_text.hpp"
#include "units/exact.hpp"
#include "whose_readings.hpp"

namespace airtally::cli {
namespace {

std::vector<std::string> rows_of(const std::string& text) {
  std::vector<std::string> rows;
  std::istringstream in(text);
  for (std::string row; std::getline(in, row);) rows.push_back(row);
  return rows;
}

bool blank(const std::string& text) { return text.find_first_not_of(" \t\r\n") == std::string::npos; }

/// Where readings are kept that no one chose a place for.
std::filesystem::path beside(const line::Line& line) {
  const std::filesystem::path at(line.file);
  return at.parent_path() / (at.stem().string() + ".readings.toml");
}

/// Whether a table of the file begins there.
bool header(const std::string& row) {
  const std::size_t first = row.find_first_not_of(" \t");
  return first != std::string::npos && row[first] == '[';
}

/// Several names or states, as the keys `off` and `tip` take them.
std::string listed_text(const std::vector<std::string>& all) {
  std::vector<std::string> quoted;
  bool comma = false;
  for (const std::string& one : all) {
    quoted.push_back(toml_text(one));
    comma = comma || one.find(',') != std::string::npos;
  }
  return comma ? fmt::format("[{}]", fmt::join(quoted, ", ")) : toml_text(fmt::format("{}", fmt::join(all, ", ")));
}

/// The states of the tips that are left on the line, as the key `tip` has it; "" where a reader need not be told.
std::string tip_text(const line::Line& line, const hunt::Setting& setting) {
  const std::vector<std::size_t> index = hunt::cut(line, line::topology(line, false), setting).index;
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  const std::vector<solve::TipState> usual = solve::usual_tips(line);
  std::vector<solve::TipState> left;
  std::vector<std::string> each;
  bool as_usual = setting.cap.has_value();
  for (std::size_t k = 0; k < nozzles.size(); ++k) {
    if (index[nozzles[k]] == line::none || setting.cap == nozzles[k]) continue;
    left.push_back(setting.tips[k]);
    each.push_back(fmt::format("{}={}", line.elements[nozzles[k]].name, report::word(setting.tips[k])));
    as_usual = as_usual && setting.tips[k] == usual[k];
  }
  if (left.empty() || as_usual) return "";
  const bool same = std::count(left.begin(), left.end(), left[0]) == static_cast<std::ptrdiff_t>(left.size());
  return same ? toml_text(std::string(report::word(left[0]))) : listed_text(each);
}

}  // namespace

std::string reading_table(const line::Line& line, const hunt::NextTest& test, const hunt::Dial& dial,
                          const std::string& typed) {
  std::string out = "\n[[reading]]\n";
  if (test.setting.cap) out += "cap = " + toml_text(line.elements[*test.setting.cap].name) + '\n';
  std::vector<std::string> off;
  for (const std::size_t i : test.setting.off) off.push_back(line.elements[i].name);
  if (!off.empty()) out += "off = " + listed_text(off) + '\n';
  if (const std::string tip = tip_text(line, test.setting); !tip.empty()) out += "tip = " + tip + '\n';
  if (test.setting.hole > 0.0) out += fmt::format("hole = \"{}\"\n", units::exact(test.setting.hole, "mm"));
  if (dial.instrument != hunt::Instrument::plugged) out += "at = " + toml_text(line.elements[dial.at].name) + '\n';
  const char* key = dial.instrument == hunt::Instrument::vacuum    ? "vacuum"
                    : dial.instrument == hunt::Instrument::plugged ? "plug-vacuum"
                    : dial.instrument == hunt::Instrument::current ? "current"
                                                                   : "flow";
  return out + fmt::format("{} = {}\n", key, toml_text(typed));
}

SavedReadings::SavedReadings(const line::Line& line, const std::string& save)
    : line_(line), kept_(save.empty() ? beside(line) : std::filesystem::path(save)) {
  if (!blank(kept_.text())) {
    text_ = kept_.text();
    notes_ = read::read_readings_text(text_, file().string());
    refuse_another_line(notes_, line_.file);
    read::read_logs(notes_, line_.site);
    hunt::look_up(line_, {notes_});
    refuse_closed_list();
  } else {
    text_ = "format = 1\nline = " + toml_text(read::name_for(file(), line.file)) + '\n';
  }
}

/// A list between brackets takes no table more: better said before the first reading than after it.
void SavedReadings::refuse_closed_list() const {
  try {
    read::read_readings_text(text_ + "\n[[reading]]\n", file().string());
  } catch (const BadInput&) {
    throw BadInput(
        Position{file().string(), 0, 0},
        "has its readings as reading = [...], to which none can be added; write each as a table [[reading]], "
        "or choose another place with --save.");
  }
}

std::optional<std::string> SavedReadings::add(const std::string& table) {
  std::string text = text_ + table;
  try {
    line::Notes notes = notes_of(text);
    hunt::Readings all = hunt::look_up(line_, {notes});
    std::vector<hunt::Reading> last{all.list.back()};
    const std::vector<hunt::Impossible> aside = hunt::set_aside_impossible(line_, all.bench, last);
    if (!aside.empty()) return "Not taken: " + aside.front().sentence + " Type it again, or 'skip'.";
    keep(std::move(text), std::move(notes));
  } catch (const BadInput& error) {
    return error.complaints().front().sentence;
  }
  return std::nullopt;
}

std::optional<std::string> SavedReadings::take_back() {
  if (notes_.list.empty()) return std::nullopt;
  const std::vector<std::string> rows = rows_of(text_);
  const int line = notes_.list.back().where.line;
  const std::size_t begin = static_cast<std::size_t>(line) - 1;
  if (line < 1 || begin >= rows.size() || rows[begin].find("[[reading]]") == std::string::npos) return std::nullopt;
  std::size_t end = begin + 1;
  std::string was;
  for (; end < rows.size() && !header(rows[end]); ++end)
    if (!blank(rows[end])) was += (was.empty() ? "" : ", ") + rows[end];
  std::string text;
  for (std::size_t k = 0; k < rows.size(); ++k) {
    const bool gap = k + 1 == begin && blank(rows[k]);  // that was put in front of it
    if ((k < begin || k >= end) && !gap) text += rows[k] + '\n';
  }
  try {
    line::Notes notes = notes_of(text);
    if (notes.list.size() + 1 != notes_.list.size()) return std::nullopt;
    keep(std::move(text), std::move(notes));
  } catch (const BadInput&) {
    return std::nullopt;
  }
  return was;
}

line::Notes SavedReadings::notes_of(const std::string& text) const {
  line::Notes notes = read::read_readings_text(text, file().string());
  read::read_logs(notes, line_.site);
  return notes;
}

/// What does not reach the disk is shown, so that it can be noted.
void SavedReadings::keep(std::string text, line::Notes notes) {
  text_ = std::move(text);
  notes_ = std::move(notes);
  try {
    kept_.write(text_);
  } catch (const CannotWrite&) {
    write_out("The readings could not be saved. Note them down; this is the file as this session has it:\n\n" + text_);
    throw;
  }
}

}  // namespace airtally::cli
