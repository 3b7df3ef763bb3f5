#include "topics.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "read/built_in_catalogue.hpp"
#include "report/width.hpp"
#include "units/dimension.hpp"
#include "units/unit.hpp"

namespace airtally::cli {
namespace {

const char* const gauge_or_absolute =
    R"~(Vacuum is how far the pressure lies below that of the room, counted upwards: 0 kPa is the open room, 60 kPa is 60 kPa below it. It can never exceed the pressure of the room itself: about 101 kPa at sea level, 1.2 kPa less for every 100 m up.

Your gauge may say it otherwise. The same 60 kPa of vacuum, with 101.3 kPa in the room, are:

  -60 kPa      a gauge that counts from the room
  -0.6 bar     the same in bar
  17.7 inHg    a gauge that counts vacuum upwards, in inches of mercury
  450 mmHg     the same in millimetres
  41.3 kPa     an absolute gauge, which counts from nothing

To tell which you have: open its port. A gauge shows 0, an absolute one about 100 kPa (1000 mbar, 30 inHg). In line and readings files airtally takes vacuum below the room; an absolute reading there is noticed and named. In a recorded course the column's name says which it is: "vacuum_kPa", "pressure abs (kPa)".)~";

const char* const free_air =
    R"~(Flow is in litres of free air per minute: the room that the air would take at 100 kPa and 20 C (ISO 8778). A litre at the pump's inlet at 60 kPa of vacuum is only 0.4 litres of free air; only free air can be added up along a line.

A pump's label often gives the litres that its head displaces, which hold at no vacuum at all: a pump of "8 L/min" passes 1 L/min at 60 kPa. That is why a line file has its whole curve.

sccm, slm and NL/min count at 0 C and 101.325 kPa and are converted: 1 slm is 1.087 L/min of free air.)~";

const char* const line_file =
    R"~(A line file is a TOML text: the elements of a line in order, from the pump to the nozzle, and the part.

  format = 1
  title = "My line"

  [[element]]
  name = "pump"
  kind = "pump"
  curve = [["0 kPa", "8 L/min"], ["71 kPa", "0 L/min"]]

  [[element]]
  name = "hose"
  kind = "tube"
  bore = "4 mm"
  length = "0.8 m"
  leak = { rated = "12 mL/min", at = "60 kPa" }

  [[element]]
  name = "nozzle"
  kind = "nozzle"
  bore = "1 mm"
  length = "6 mm"
  rim = "1.8 mm"

  [part]
  mass = "12 mg"
  gap = "4 um"

Every value has its unit; "4 mm +- 0.1 mm" gives a tolerance (two standard deviations), "20..45 um" a range. after = "NAME" starts a branch behind another element, joins = "NAME" closes a loop. use = "NAME" takes an entry of the catalogue.

`airtally new FILE` writes one to start from; `airtally check FILE` says what was understood. docs/line-format.md has every key, docs/line-format.schema.json makes a TOML editor check them as you type.)~";

const char* const readings_file =
    R"~(A readings file is a TOML text: what was done to the line at the bench, and what an instrument showed then. `airtally hunt FILE` weighs it.

  line = "my-line.toml"
  gauge = "gauge tee"

  [[reading]]
  cap = "hose"
  vacuum = "67.0 kPa"

  [[reading]]
  tip = "part"
  vacuum = "59.6 kPa"

  [[reading]]
  tip = "blocked"
  decay = "log.csv"

cap is the element behind which the line was blocked, with all beyond it off; hole = "0.5 mm" says that a drilled plate blocks it. off takes branches off, tip says what is at the nozzles. What was read is one of vacuum, plug-vacuum, current, flow, decay and rise; a blank one, "", is skipped.

decay and rise name a log: a table of text whose first row names its columns with their units, parted by commas, semicolons or tabs. The column's name says what the pressure counts from, "vacuum_kPa" or "pressure abs (mbar)":

  time_s,vacuum_kPa
  0.0,66.4
  0.5,65.8
  1.0,65.2

docs/readings-format.md has every key.)~";

const char* const tips_text = R"~(A tip is what happens at a nozzle's mouth:

  open      nothing is there: air rushes in
  part      the part lies on it, with the gap that the file gives it
  blocked   nothing comes in: a plug, or the nozzle on a plate

--tip STATE sets all nozzles, --tip "nozzle 2=open" one alone. Without it the part is on where the file has [part], else the tip is open.

Tip vacuum is what acts on the part, between nozzle and part; with an open tip it is that just behind the nozzle.)~";

const char* const exit_codes = R"~(How the program ends, for scripts:

  0    answered
  1    the line cannot do what was asked (hold, cycle, sense, joint, pumps), or
       the answer could not be written
  2    bad input: a file, an option or a name that can't be used
  3    the solver gave up; the message says where
  70   a mistake of airtally's own

A sweep (--sweep) answers for many lines and ends with 0 whatever they can do, which its table says, and with 3 where the solver gave up at one of them.

Answers go to standard output, trouble to standard error. --json gives answers in SI units with the unit in each key; docs/json.md has every key.)~";

const char* const cautions = R"~(A pick-up line is small, and its machine may not be. Before a finger goes near it:

  - Stop and lock out the moving axes; a head that waits will move unwarned.
  - Shut off blow-off air and let it out; keep skin and eyes away from it.
  - A thumb on a port is no gauge: use a plug or tape, let air in to pull it.
  - Pumps get hot, more so against a blocked line. Let them cool.
  - Keep out of the mains. Measuring a pump's current is for low voltage.
  - Vacuum lets go when the power fails: it must not be all that holds a part
    whose fall can hurt.

Follow your local code, and leave mains work to a person licensed to do it.)~";

std::string units_body() {
  std::string out =
      "A number without a unit is never accepted. Spaces, dots, carets and raised digits are as you like: "
      "\"dm3/(s bar)\"; capitals matter.\n\n";
  std::string symbols;
  const auto end_row = [&](units::Dimension dimension) {
    std::string head = report::pad_right(units::name_of(dimension), 22);
    if (dimension != units::Dimension::number)
      for (const std::string& row : report::wrap(symbols, 54)) {
        out += fmt::format("  {}{}\n", head, row);
        head.assign(22, ' ');
      }
    symbols.clear();
  };
  const auto all = units::all_units();
  for (std::size_t k = 0; k < all.size(); ++k) {
    symbols += fmt::format("{}{}", symbols.empty() ? "" : ", ", all[k].symbol);
    if (k + 1 == all.size() || all[k + 1].dimension != all[k].dimension) end_row(all[k].dimension);
  }
  out.pop_back();
  return out;
}

std::string catalogue_body() {
  std::string out =
      "Entries that a line file may take with use = \"NAME\", and that `airtally new` offers. The values are common "
      "practice, without a source: put your own in their place where you know them. A folder named catalogue beside "
      "the line file is looked through first.\n";
  for (const read::CatalogueEntry& entry : read::built_in_catalogue())
    out += fmt::format("\n  {:<12}{}", line::word(entry.kind), entry.name);
  return out;
}

}  // namespace

std::vector<Topic> topics() {
  return {{"gauge-or-absolute", "What vacuum means here, and what your gauge may call it", gauge_or_absolute},
          {"free-air", "Which litres a flow is counted in; why labels mislead", free_air},
          {"line-file", "How a line is written down", line_file},
          {"readings-file", "How readings and logs are written down", readings_file},
          {"tips", "Open, part, blocked: what is at a nozzle's mouth", tips_text},
          {"units", "Every unit that is read", units_body()},
          {"catalogue", "The generic elements that come with airtally", catalogue_body()},
          {"exit-codes", "How the program ends, for scripts", exit_codes},
          {"cautions", "Before a finger goes near the machine", cautions}};
}

std::string topic_text(const Topic& topic) {
  std::string out;
  for (std::size_t from = 0; from <= topic.body.size();) {
    const std::size_t end = std::min(topic.body.find('\n', from), topic.body.size());
    const std::string row = topic.body.substr(from, end - from);
    out += row.empty() || row.front() == ' ' ? row + '\n' : report::paragraph(row);
    from = end + 1;
  }
  return out;
}

}  // namespace airtally::cli
