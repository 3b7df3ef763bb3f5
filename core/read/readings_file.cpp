#include "read/readings_file.hpp"

#include <fmt/format.h>

#include <array>

#include "read/log_file.hpp"
#include "read/named_file.hpp"
#include "read/plate_limits_private.hpp"
#include "read/plates_text.hpp"
#include "read/table_reader_private.hpp"
#include "read/text_file_private.hpp"
#include "read/toml_file_private.hpp"
#include "units/parse.hpp"
#include "units/trimmed.hpp"

namespace airtally::read {
namespace {

using line::Note;
using line::NoteMeter;

// Wide enough for a reading that can't be true, which the hunt then explains.
constexpr Limits read_vacuum{Dimension::pressure, -2e5, 2e5, "-200 kPa .. 200 kPa"};
constexpr Limits read_current{Dimension::current, -100.0, 100.0, "-100 A .. 100 A"};
constexpr Limits read_flow{Dimension::flow, -1e4 * limits::l_min, 1e4 * limits::l_min, "-10000 L/min .. 10000 L/min"};
constexpr Limits shut_volume{Dimension::volume, 1e-9, 1.0, "0.001 mL .. 1000 L"};
constexpr Limits log_drift{Dimension::warming, 0.01, 20.0, "0.01 K .. 20 K"};
constexpr Limits share{Dimension::number, 0.0, 1.0, "0 .. 1"};

struct NoteKind {
  const char* key;
  Note::Of of;
  Limits limits;
};
constexpr std::array<NoteKind, 4> note_kinds{{{"vacuum", Note::Of::vacuum, read_vacuum},
                                              {"plug-vacuum", Note::Of::plugged, read_vacuum},
                                              {"current", Note::Of::current, read_current},
                                              {"flow", Note::Of::flow, read_flow}}};

/// Whether a key is there and says something: a form has blanks.
bool filled(const TableReader& table, const char* key) {
  if (!table.has(key)) return false;
  const auto* text = table.raw().get_as<std::string>(key);
  return text == nullptr || text->get().find_first_not_of(" \t_") != std::string::npos;
}

std::vector<std::string> split(std::string_view text) {
  std::vector<std::string> parts;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t comma = std::min(text.find(',', at), text.size());
    if (const auto part = units::trimmed(text.substr(at, comma - at)); !part.empty()) parts.emplace_back(part);
    at = comma + 1;
  }
  return parts;
}

/// Several names or states: "hose 1, hose 2", or a list, for names that have a comma.
std::vector<std::string> texts(TableReader& table, const char* key) {
  const auto* list = table.raw().get_as<toml::array>(key);
  if (list == nullptr) return split(table.text(key).value_or(""));
  table.know(key);
  std::vector<std::string> all;
  for (const toml::node& node : *list) {
    const auto* text = node.as_string();
    if (text != nullptr)
      all.push_back(text->get());
    else
      table.complain(key, fmt::format("{} = [...] is a list of texts, each between quotes.", key));
  }
  return all;
}

NoteMeter read_meter(TableReader& table, const Limits& accuracy, const Limits& step) {
  NoteMeter meter;
  meter.accuracy = table.single("accuracy", accuracy).value_or(meter.accuracy);
  meter.resolution = table.single("resolution", step).value_or(meter.resolution);
  meter.repeatability = table.single("repeatability", step).value_or(meter.repeatability);
  table.refuse_unknown_keys("an instrument");
  return meter;
}

/// Whether the reading is a log.
bool read_log_keys(TableReader& table, Note& note) {
  int given = 0;
  for (const auto& [key, of] : {std::pair("decay", Note::Of::decay), std::pair("rise", Note::Of::rise)}) {
    table.know(key);
    if (!filled(table, key)) continue;
    ++given;
    note.of = of;
    note.log_file = table.text(key).value_or("");
    note.log_at = table.where(key);
  }
  note.shut = table.text("shut").value_or("");
  note.shut_at = table.where("shut");
  if (const auto volume = table.quantity("volume", shut_volume)) note.volume = *volume;
  note.drift = table.single("drift", log_drift).value_or(0.0);
  for (const char* key : {"shut", "volume", "drift"})
    if (table.has(key) && note.of != Note::Of::decay)
      table.complain(key, fmt::format("{} belongs to a decay log; this reading has none.", key));
  if (note.of == Note::Of::decay && !note.at.empty())
    table.complain("at",
                   "a decay log is of all that was shut off; leave 'at' out, and say with 'shut' what shut it off.");
  if (given > 1) table.complain_here("has both 'decay' and 'rise'; write a reading for each.");
  return given > 0;
}

/// Nothing when the reading was left blank.
std::optional<Note> read_note(TableReader& table) {
  Note note;
  note.where = table.where();
  note.cap = table.text("cap").value_or("");
  note.cap_at = table.where("cap");
  note.off = texts(table, "off");
  note.off_at = table.where("off");
  note.at = table.text("at").value_or("");
  note.at_at = table.where("at");
  note.tips = texts(table, "tip");
  note.tip_at = table.where("tip");
  if (filled(table, "hole")) {
    note.hole = table.single("hole", limits::plate).value_or(0.0);
    if (note.cap.empty()) table.complain("hole", "a drilled plate closes a capped end; say behind which element: cap.");
  }
  table.know("hole");
  int given = read_log_keys(table, note) ? 1 : 0;
  for (const NoteKind& kind : note_kinds) {
    table.know(kind.key);
    if (!filled(table, kind.key)) continue;
    ++given;
    note.of = kind.of;
    if (const auto value = table.quantity(kind.key, kind.limits)) {
      note.value = value->value;
      note.deviation = value->standard_deviation();
    }
  }
  if (note.of == Note::Of::plugged && (note.cap.empty() || note.hole > 0.0 || !note.at.empty()))
    table.complain("plug-vacuum",
                   "a gauge in the plug reads at the capped end; say behind which element it is, cap, with neither "
                   "'hole' nor 'at'.");
  table.know("note");
  table.refuse_unknown_keys("a reading");
  if (given > 1)
    table.complain_here(
        "has more than one of 'vacuum', 'plug-vacuum', 'current', 'flow', 'decay' and 'rise'; write a reading for "
        "each.");
  if (note.cap.empty() && note.off.empty() && note.tips.empty() && given > 0)
    table.complain_here(
        "needs cap = \"ELEMENT\", off = \"ELEMENT\" (a branch, by what it begins with) or tip = \"open\", \"part\" or "
        "\"blocked\": what was done to the line?");
  return given == 1 ? std::optional(note) : std::nullopt;
}

}  // namespace

line::Notes read_readings_text(std::string_view text, const std::string& name) {
  const toml::table file = parse_toml(text, name);
  Complaints complaints(name);
  TableReader top(file, "readings file", complaints);
  line::Notes notes;
  notes.file = name;
  if (top.has("format")) check_format(top);
  top.know("format");
  top.know("title");
  notes.line = top.text("line").value_or("");
  notes.line_at = top.where("line");
  notes.gauge = top.text("gauge").value_or("");
  notes.gauge_at = top.where("gauge");
  const auto meter = [&](const char* key, const Limits& accuracy, const Limits& step) -> std::optional<NoteMeter> {
    auto table = top.table(key);
    return table ? std::optional(read_meter(*table, accuracy, step)) : std::nullopt;
  };
  notes.gauge_meter = meter("gauge-meter", limits::reading, limits::reading);
  notes.plug_gauge = meter("plug-gauge", limits::reading, limits::reading);
  notes.ammeter = meter("ammeter", limits::current, limits::current);
  notes.flow_meter = meter("flow-meter", share, limits::flow);
  if (const auto holes = top.text("plates")) {
    try {
      notes.plates = plates_in(*holes);
    } catch (const units::UnitError& error) {
      top.complain("plates",
                   fmt::format("{} Write the drilled plates' holes as \"0.5 mm, 1 mm\", or \"none\".", error.what()));
    }
  }
  notes.discharge = top.quantity("discharge", limits::discharge);
  int number = 0;
  for (TableReader& found : top.tables("reading")) {
    TableReader table(found.raw(), fmt::format("reading {}", ++number), complaints);
    if (auto note = read_note(table))
      notes.list.push_back(std::move(*note));
    else
      ++notes.blanks;
  }
  if (!top.has("reading") && top.has("element"))
    top.complain_here("is a line file; a readings file has line = \"FILE\" and a table [[reading]] for each reading.");
  else
    top.refuse_unknown_keys("a readings file");
  complaints.throw_if_any();
  return notes;
}

void read_logs(line::Notes& notes, const gas::Site& site) {
  Complaints complaints(notes.file);
  for (Note& note : notes.list) {
    if (note.log_file.empty()) continue;
    const bool decay = note.of == Note::Of::decay;
    try {
      const auto file = named_file(notes.file, note.log_file, note.log_at, decay ? "decay" : "rise");
      note.log = decay ? read_log(file, site.pressure, line::fewest_decay_rows) : read_log(file, site.pressure);
    } catch (const BadInput& error) {
      for (const Complaint& complaint : error.complaints()) complaints.add(complaint.at, complaint.sentence);
    }
  }
  complaints.throw_if_any();
}

line::Notes read_readings(const std::filesystem::path& file) {
  return read_readings_text(text_of(file), file.string());
}

}  // namespace airtally::read
