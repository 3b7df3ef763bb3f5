#include <algorithm>
#include <cmath>

#include "line/shut_valve.hpp"
#include "report/describe.hpp"
#include "report/sheet_places.hpp"
#include "report/shut_words.hpp"
#include "report/strip_columns.hpp"
#include "report/strip_words.hpp"
#include "report/table.hpp"
#include "report/text.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/unit.hpp"

namespace airtally::report {
namespace {

constexpr std::string_view blank = "__________";
/// From here on a port is for a plug and not for a thumb: over a minute or two it raises a blister. Common practice, no
/// source.
constexpr double deep_vacuum = 20e3;  // Pa

std::string box(std::string_view text) { return paragraph("[ ] " + std::string(text), 80, 4); }

double deepest_of(const study::Strip& strip) {
  double vacuum = 0.0;
  for (const auto& step : strip.steps)
    for (const auto& r : step.readings) vacuum = std::max(vacuum, r.vacuum);
  return vacuum;
}

bool has(const line::Line& line, line::Kind kind) {
  return std::any_of(line.elements.begin(), line.elements.end(),
                     [kind](const line::Element& e) { return e.kind == kind; });
}

std::string cautions(const line::Line& line, const study::Strip& strip, const Look& look) {
  std::string out = "BEFORE YOU START\n";
  out +=
      box("The moving axes are stopped, their power is off and locked out. A head that waits in its cycle moves "
          "without warning.");
  out +=
      box("Blow-off air is shut off and its pressure let out. Never put skin or an eye where blow-off air comes out, "
          "nor over an open suction port; wear eye protection.");
  out +=
      box(deepest_of(strip) > deep_vacuum
              ? "Plugs are at hand. This line pulls " + vacuum(look, deepest_of(strip)) +
                    ": block ports with a plug, never a thumb, and let air in before you pull the plug."
              : std::string("Plugs are at hand: a plug closes a port better than a thumb does. Let air in before you "
                            "pull the plug."));
  if (has(line, line::Kind::pump))
    out +=
        box("The pump may be hot, and gets hotter against a blocked line. Let it cool before you touch it; keep each "
            "reading short.");
  if (has(line, line::Kind::ejector)) {
    out +=
        box("Readings need the ejector's compressed air on while ports are open: all hands and tools are clear of what "
            "it can move before it is let in, and it is shut off and let out before a joint is undone.");
    out +=
        box("The ejector's exhaust is loud and blows, dust and all: wear hearing and eye protection, keep your face "
            "out of it. Compressed air is for a person trained for it; follow your local code.");
  }
  const bool metered = std::any_of(line.elements.begin(), line.elements.end(),
                                   [](const line::Element& e) { return e.pump && !e.pump->current.empty(); });
  out +=
      box(metered ? "The ammeter goes into a low-voltage supply only. Anything on the mains is for a person licensed "
                    "to do it; follow your local code."
                  : "Anything on the mains is for a person licensed to do it; follow your local code.");
  return out;
}

std::string first_notes(const line::Line& line, const study::Strip& strip, const Look& look) {
  const std::string unit(look.vacuum->symbol);
  std::string out = "WRITE DOWN FIRST\n";
  out += "Ambient pressure " + std::string(blank) + " " + unit + "    Room temperature " + std::string(blank) + " C\n";
  if (has(line, line::Kind::pump)) out += "Supply voltage at the pump, running " + std::string(blank) + " V\n";
  for (const std::size_t e : line::all_of(line, line::Kind::ejector)) {
    const auto& filed = line.elements[e].pump->supply;
    out += pad_right("Supply pressure at " + cut(name(line, e), 18, look.style.cut_mark()) + ", running" +
                         (filed ? " (file: " + said(filed->value, units::Dimension::pressure, {}) + ")" : ""),
                     62) +
           std::string(blank) + " kPa\n";
  }
  for (const StripColumn& i : instruments(line, strip))
    if (!i.ammeter)
      out += pad_right((i.loose ? "Loose gauge" : "Gauge at " + cut(name(line, i.at), 34, look.style.cut_mark())) +
                           ", open to the room",
                       62) +
             std::string(blank) + ' ' + unit + '\n';
  return out;
}

double most_amperes(const study::Strip& strip) {
  double most = 0.0;
  for (const study::StripStep& step : strip.steps)
    for (const study::StripReading& r : step.readings) most = std::max(most, r.current.value_or(0.0));
  return most;
}

/// As fine as the gauge at the element shows it, where the file says how fine that is.
Scale as_shown(const line::Element& element, const Scale& usual, bool loose, const Look& look) {
  const double step = loose || !element.gauge ? 0.0 : element.gauge->resolution.value;
  if (!(step > 0.0)) return usual;
  constexpr double rounding = 1e-6;  // of the conversion
  const double decades = -std::log10(units::from_si(step, *look.vacuum)) - rounding;
  return {*look.vacuum, std::clamp(static_cast<int>(std::ceil(decades)), 0, 6)};
}

/// Rows of the sheet for one thing that is done to the line: an instrument each.
class Form {
 public:
  Form(const line::Line& line, const study::Strip& strip, const Look& look, std::vector<Column> columns)
      : line_(line),
        look_(look),
        assumed_(strip.assumed_gauge),
        all_(instruments(line, strip)),
        vacuums_(vacuum_scale(look, deepest_of(strip))),
        amperes_(current_scale(most_amperes(strip))),
        table_(with_readings(std::move(columns))) {}

  /// `done` stands in the first of the rows; `read` says what an instrument would show, if anything.
  template <class Read>
  void add(std::vector<std::string> done, const Read& read) {
    for (const StripColumn& i : all_) {
      const std::optional<double> value = read(i);
      if (!value) continue;
      const Scale scale = i.ammeter ? amperes_ : as_shown(line_.elements[i.at], vacuums_, i.loose, look_);
      std::vector<std::string> row = done;
      row.insert(row.end(), {i.loose     ? "loose gauge"
                             : i.ammeter ? name(line_, i.at) + " current"
                                         : (assumed_ ? "gauge at " : "") + name(line_, i.at),
                             scale.number(*value), scale.unit(), std::string(blank)});
      table_.add(row);
      std::fill(done.begin(), done.end(), "");
    }
  }
  std::string text() const { return table_.text({.colour = false, .ascii = look_.style.ascii}); }

 private:
  static std::vector<Column> with_readings(std::vector<Column> columns) {
    columns.insert(columns.end(), {{"read", "", true}, {"predicted"}, {"", "", true}, {"measured"}});
    return columns;
  }

  const line::Line& line_;
  const Look& look_;
  bool assumed_;
  std::vector<StripColumn> all_;
  Scale vacuums_, amperes_;
  Table table_;
};

std::string steps(const line::Line& line, const study::Strip& strip, const Look& look) {
  Form form(line, strip, look, {{"step"}, {"take off all beyond, and plug", "", true}});
  for (std::size_t s = 0; s < strip.steps.size(); ++s) {
    const study::StripStep& step = strip.steps[s];
    const std::string with = blocked_with(line.elements[step.cap]);
    form.add({std::to_string(s + 1), name(line, step.cap) + (with.empty() ? "" : " (" + with + ')')},
             [&](const StripColumn& i) { return reading(step, i); });
  }
  return form.text();
}

/// What else may be wrong where the first reading is low already.
std::string otherwise_low(const line::Line& line, const study::Strip& strip) {
  std::vector<std::string> all;
  if (has(line, line::Kind::pump)) all.insert(all.end(), {"the pump is worn", "its supply voltage is low"});
  if (has(line, line::Kind::ejector))
    all.insert(all.end(), {"the ejector is worn or clogged", "its supply pressure is low"});
  bool gauge = false, ammeter = false;
  for (const StripColumn& i : instruments(line, strip)) (i.ammeter ? ammeter : gauge) = true;
  if (gauge) all.emplace_back("the gauge is out");
  if (ammeter) all.emplace_back("the ammeter is out");
  std::string text;
  for (std::size_t k = 0; k < all.size(); ++k) text += (k == 0 ? "" : k + 1 < all.size() ? ", " : ", or ") + all[k];
  return text;
}

std::string branches(const line::Line& line, const study::Strip& strip, const Look& look) {
  Form form(line, strip, look, {{"take off, and plug what it leaves", "", true}});
  form.add({"nothing, the line whole"}, [&](const StripColumn& i) { return reading(strip.whole, i); });
  for (const study::StripBranch& branch : strip.branches)
    form.add({name(line, branch.off) + " and all beyond"},
             [&](const StripColumn& i) { return reading(branch.readings, i); });
  return "BRANCHES\n" +
         paragraph(
             "Where the line forks a step has the other branches on. So keep the line whole " +
             state_phrase(strip.tips) +
             ", but take off one branch at a time, and plug the opening that it leaves. Without the branch that leaks "
             "the vacuum comes back by more than predicted.") +
         '\n' + form.text() + '\n';
}

}  // namespace

std::string sheet_text(const line::Line& line, const study::Strip& strip, const Look& asked) {
  Look look = asked;
  look.style.colour = false;
  std::string out = "REMOVAL TEST: BENCH SHEET\n" + cut(title(line), 80, look.style.cut_mark()) + "\n\n";
  out += "Date " + std::string(14, '_') + "   Name " + std::string(22, '_') + "   Machine " + std::string(20, '_') +
         "\n\n";
  out += cautions(line, strip, look) + '\n' + first_notes(line, strip, look) + '\n';
  const std::string others =
      leaves_others_on(line, strip)
          ? " The predictions are for a line " + state_phrase(strip.tips) +
                ": keep the tips that a step leaves on the line so, and block only the one that it names."
          : "";
  if (const auto shut = line::shut_valve(line))
    out += paragraph("OPEN IT FIRST. " + stands_shut(line.elements[*shut]) +
                     ", in the file too, by which the predictions below are made. " + open_it(line.elements[*shut])) +
           '\n';
  else if (!strip.culprit)
    out += paragraph("THIS TEST WILL TELL LITTLE HERE. By prediction " + nothing_shows(line, strip, look) +
                     " Rather ask for readings that do show it: airtally hunt --bench " + typed_file(line) +
                     ". What the steps are good for is a leak that the file does not "
                     "have.") +
           '\n';
  out += "STEPS\n";
  out += paragraph(
      std::string("Work from the pump outwards. At each step take off everything beyond the element named, plug its "
                  "tip-side end, wait until the reading stands still, and write it down. Then let air in.") +
      others);
  std::string gauges = where_gauges_go(line, strip);
  if (!gauges.empty()) gauges += ' ';
  out +=
      '\n' + paragraph(gauges +
                       "In brackets is what closes the end, with the bore that a plug must fill: one of rubber, or a "
                       "cap on the port. A nozzle's mouth takes a soft flat pad, pressed on by a tool and not by a "
                       "finger.");
  out += '\n' + steps(line, strip, look) + '\n';
  if (!strip.branches.empty()) out += branches(line, strip, look);
  out += "HOW TO READ IT\n";
  out += paragraph(
      std::string(
          "An element that makes the reading fall more than predicted leaks more than the line file says. If the "
          "first reading is already low, ") +
      otherwise_low(line, strip) + ": stop and look there first.");
  if (strip.culprit)
    out += paragraph("By prediction the biggest fall comes with " + the(line.elements[*strip.culprit]) +
                     (line::all_of(line, line::Kind::nozzle).size() > 1
                          ? ", by what it brings itself: a step behind a fork brings the other branches on too."
                          : "."));
  out += "\nNotes " + std::string(74, '_') + "\n" + std::string(80, '_') + '\n';
  return out;
}

}  // namespace airtally::report
