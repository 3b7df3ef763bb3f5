#include <fmt/format.h>

#include <cmath>

#include "report/strip_readings.hpp"
#include "report/table.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

using hunt::Beside;

std::string verdict(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all, const Look& look) {
  if (all.list.empty()) return "None of the readings is a step of the removal test: a blind cap, or the tip blocked.";
  if (!all.worst && all.off) {
    const Beside& b = all.list[*all.off];
    const bool gauge = is_gauge(b.instrument);
    const double off = std::fabs(b.predicted - b.read);
    return fmt::format(
        "Capped behind {}, the line has {} than the file says. What is wrong is in it: cap it nearer to "
        "the pump, step by step, and read the same instrument.",
        the(line.elements[strip.steps[b.step].cap]),
        gauge ? vacuum(look, off) + " less vacuum" : "a current " + current_scale().text(off) + " other");
  }
  if (!all.worst && all.spared) {
    const Beside& b = all.list[*all.spared];
    return fmt::format(
        "No step costs more than the file says. {} costs {} less vacuum: it is better than the file takes it to be.",
        The(line.elements[strip.steps[b.step].cap]), vacuum(look, b.surprise));
  }
  if (!all.worst)
    return "Step by step the readings fall as the file says they should, as far as the instruments can tell.";
  const Beside& worst = all.list[*all.worst];
  const std::string more = is_gauge(worst.instrument)
                               ? vacuum(look, std::fabs(worst.surprise)) + " more vacuum than the file says"
                               : current_scale().text(std::fabs(worst.surprise)) + " other than the file says";
  return fmt::format("{} surprises most: its step costs {}. What is wrong is in what was added there.",
                     The(line.elements[strip.steps[worst.step].cap]), more);
}

}  // namespace

std::string strip_readings_text(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all,
                                const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(verdict(line, strip, all, look)) + '\n';
  double deepest = 0.0;
  for (const Beside& b : all.list)
    if (is_gauge(b.instrument)) deepest = std::max(deepest, std::fabs(b.read));
  const Scale vacuums = vacuum_scale(look, deepest), amperes = current_scale();
  Table table({{"step"},
               {"cap behind", "", true},
               {"read at", "", true},
               {"read"},
               {"by the file"},
               {"off by"},
               {"step"},
               {""}});
  for (std::size_t i = 0; i < all.list.size(); ++i) {
    const Beside& b = all.list[i];
    const Scale& scale = is_gauge(b.instrument) ? vacuums : amperes;
    const bool loose = b.instrument == hunt::Instrument::plugged;
    table.add({std::to_string(b.step + 1), name(line, strip.steps[b.step].cap), loose ? "the plug" : name(line, b.at),
               scale.text(b.read), scale.text(b.predicted), scale.gain(b.read - b.predicted),
               b.compared ? scale.gain(b.surprise) : "-", all.worst == i ? std::string(look.style.arrow()) : ""},
              all.worst == i);
  }
  if (!all.list.empty()) out += table.text(look.style) + '\n';
  out += paragraph(
      "off by: read less predicted, the instrument's own error included. step: what this step brought by the readings "
      "less what it brings by the file, in which that error is gone.");
  if (all.others > 0)
    out += paragraph(fmt::format("{} left out: no step of the removal test. airtally hunt weighs them all.",
                                 capital(counted(all.others, "reading"))));
  out += '\n' + paragraph("Next: what the readings together make of it:") + "    airtally hunt READINGS\n";
  return out;
}

}  // namespace airtally::report
