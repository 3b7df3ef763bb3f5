#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/hunt_text.hpp"
#include "report/said_in.hpp"
#include "report/strip_readings.hpp"
#include "report/strip_readings_private.hpp"
#include "report/table.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {

using hunt::Beside;

namespace {

/// The readings file as one would type it; where it is not given and none of its readings stands anywhere, a word for
/// it.
std::string typed_readings(const hunt::BesideAll& all, const std::string& given) {
  const std::string file = !given.empty()           ? given
                           : !all.list.empty()      ? all.list.front().where.file
                           : !all.set_aside.empty() ? all.set_aside.front().reading.where.file
                                                    : "";
  return file.empty() ? "READINGS" : typed_file(file);
}

}  // namespace

std::string strip_readings_text(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all,
                                const Look& look, const std::string& readings) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  std::optional<Misread> misread = misread_of(line, strip, all);
  // Two readings that contradict each other are told together, as either may be the wrong one.
  if (misread && !stands(all, all.list[misread->reading].surprise)) misread.reset();
  out += paragraph(strip_readings_verdict(line, strip, all, misread, look)) + '\n';
  for (const hunt::Impossible& aside : all.set_aside) out += paragraph(said_in(look, set_aside_sentence(aside)));
  if (!all.set_aside.empty()) out += '\n';
  double deepest = 0.0;
  for (const Beside& b : all.list)
    if (is_gauge(b.instrument)) deepest = std::max(deepest, std::fabs(b.read));
  double most = 0.0;
  for (const Beside& b : all.list)
    if (!is_gauge(b.instrument)) most = std::max(most, std::fabs(b.read));
  const Scale vacuums = vacuum_scale(look, deepest), amperes = current_scale(most);
  std::optional<std::size_t> marked;
  if (all.worst && stands(all, all.list[*all.worst].surprise)) marked = all.worst;
  if (misread) marked = misread->reading;
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
               b.compared ? scale.gain(b.surprise) : "-", marked == i ? std::string(look.style.arrow()) : ""},
              marked == i);
  }
  if (!all.list.empty()) {
    out += table.text(look.style) + '\n';
    out += paragraph(
        "off by: read less predicted, the instrument's own error included. step: what this step brought by the "
        "readings less what it brings by the file, in which that error is gone.");
  }
  out += branches_beside(line, all, look);
  if (all.others > 0) {
    const std::string tips = all.other_tips ? fmt::format(
                                                  " Taken with other tips; --tip {} puts those that were taken so "
                                                  "beside the file.",
                                                  word(*all.other_tips))
                                            : "";
    out += paragraph(fmt::format("{} left out: no step of the removal test.{} airtally hunt weighs them all.",
                                 capital(counted(all.others, "reading")), tips));
  }
  if (all.list.empty() && all.branches.empty() && all.others == 0)
    return out + paragraph("Next: see to what was set aside, and read again.") + paragraph(bench_cautions(line));
  out += '\n' + paragraph("Next: what the readings together make of it:") + "    airtally hunt " +
         typed_readings(all, readings) + '\n';
  return out + paragraph(bench_cautions(line));
}

}  // namespace airtally::report
