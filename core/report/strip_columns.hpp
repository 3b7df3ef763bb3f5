#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "line/line.hpp"
#include "study/strip.hpp"

/// The instruments of a removal test, as its table and its bench sheet list them.
namespace airtally::report {

/// A gauge at an element, the ammeter of a source, or a loose gauge in the plug.
struct StripColumn {
  std::size_t at = 0;    ///< element, an index into the line; 0 of a loose gauge
  bool ammeter = false;  ///< the source's ammeter; false: the gauge there, or one assumed
  bool loose = false;    ///< a gauge in what blocks the end, wherever that is
  /// Whether it is the same one.
  bool operator==(const StripColumn&) const = default;
};

/// Those that read anything in any step, the judging one first, then gauges, then ammeters, in line order. Where a step
/// takes all of them off the line, a loose gauge comes second.
std::vector<StripColumn> instruments(const line::Line& line, const study::Strip& strip);

/// Whether a step may leave other branches on the line with a tip: there are several nozzles, or several sources, of
/// which the others go on when all beyond one of them is off.
bool leaves_others_on(const line::Line& line, const study::Strip& strip);

/// What it reads among those of a step [Pa or A]; nothing when it is off the line, and of a loose
/// gauge, which has no place among them.
std::optional<double> reading(const std::vector<study::StripReading>& readings, const StripColumn& instrument);
/// The same of a step, with the loose gauge.
std::optional<double> reading(const study::StripStep& step, const StripColumn& instrument);

}  // namespace airtally::report
