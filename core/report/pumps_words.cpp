// Which pump does, and what one must give, in sentences.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "gas/air.hpp"
#include "line/shut_valve.hpp"
#include "report/needs.hpp"
#include "report/pumps_text.hpp"
#include "report/safe_side.hpp"
#include "report/shut_words.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

using study::Pumps;
using study::PumpTry;
using units::Dimension;

/// Whether a curve reads noticeably otherwise at the line's site than on its data sheet.
bool reads_otherwise(const line::Line& line) {
  constexpr double alike = 0.01;
  return std::abs(line.site.pressure / gas::standard_pressure - 1.0) > alike;
}

/// "1.40 L/min at 29.5 kPa"
std::string must_give(const study::RequiredPoint& point, const Look& look) {
  const Scale scale = vacuum_scale(look, point.vacuum);
  return no_less_than(point.flow, Dimension::flow) + " at " + no_less_than(point.vacuum, Dimension::pressure, scale) +
         ' ' + scale.unit();
}

/// That a nozzle asks for nearly all that the room has, where one does: no pump is the cure for that.
std::string too_small(const line::Line& line, const Pumps& pumps, const Look& look) {
  constexpr double nearly_all = 0.8;  // of the room's pressure; few pumps go deeper
  const auto most = std::max_element(pumps.needs.begin(), pumps.needs.end());
  if (*most < nearly_all * line.site.pressure) return "";
  if (*most >= line.site.pressure) return no_vacuum(vacuum(look, line.site.pressure));
  const std::size_t nozzle =
      line::all_of(line, line::Kind::nozzle).at(static_cast<std::size_t>(most - pumps.needs.begin()));
  return ' ' + The(line.elements[nozzle]) + " is small for this part: it needs " + vacuum(look, *most) + " of the " +
         vacuum(look, line.site.pressure) +
         " that the room has. A wider one, a lighter part or gentler moves need less.";
}

}  // namespace

std::string pump_named(const PumpTry& pump) {
  return pump.own ? std::string("the line's own ") + (pump.ejector ? "ejector" : "pump")
                  : "the '" + clean(pump.name) + "'";
}

std::string pumps_on_sheet(const line::Line& line, const Look& look) {
  return reads_otherwise(line) ? ", as on its data sheet, read at " + vacuum(look, gas::standard_pressure) : "";
}

std::string pumps_verdict(const line::Line& line, const study::Pumps& pumps, const Look& look) {
  if (!pumps.why_not_closed.empty()) return "No pump can do this: " + clean(pumps.why_not_closed) + ".";
  const auto shut = pumps.hold_possible ? std::nullopt : line::shut_valve(line);
  if (shut)
    return "No pump can do this. " + stands_shut(line.elements[*shut]) + ", so no pump's vacuum gets to the tip. " +
           open_it(line.elements[*shut]);
  if (!pumps.hold_possible)
    return "No pump can do this: the moves need " + needs_at_tips(pumps.needs, look) +
           ", more than any vacuum brings there." + too_small(line, pumps, look);
  std::string text;
  if (pumps.smallest) {
    const PumpTry& least = pumps.tries[*pumps.smallest];
    const auto does = static_cast<std::size_t>(
        std::count_if(pumps.tries.begin(), pumps.tries.end(), [](const PumpTry& pump) { return pump.does(); }));
    const std::size_t all = pumps.tries.size();
    const std::string who =
        all == 1      ? capital(pump_named(least)) + " does the job"
        : does == 1   ? fmt::format("Of {} pumps {} alone does the job", all, pump_named(least))
        : does == all ? fmt::format("All {} pumps do the job, and {} is the smallest", all, pump_named(least))
                      : fmt::format("Of {} pumps {} do the job, and {} is the smallest", all, does, pump_named(least));
    text = fmt::format("{}: {} of free flow, {} at the tip with the part on, {} to spare.", who, flow(least.free_flow),
                       vacuum(look, least.vacuum_part), vacuum(look, least.margin));
  } else if (pumps.tries.size() == 1) {
    text = capital(pump_named(pumps.tries.front())) + " does not do the job.";
  } else {
    text = fmt::format("None of these {} does the job.", counted(pumps.tries.size(), "pump"));
  }
  if (pumps.hold.flow <= 0.0)
    return text + " The other sources of the line hold the part alone: no flow is asked of this one.";
  text += " To hold the part a pump must give " + must_give(pumps.hold_here, look) + " or more";
  if (reads_otherwise(line))
    text += " here, which is " + must_give(pumps.hold, look) + " on its data sheet, read at " +
            vacuum(look, gas::standard_pressure);
  if (pumps.speed_for_time && pumps.time)
    text += fmt::format(
        "; to have it so within the {} allowed, from the room's pressure, {} of free flow at constant speed{}",
        time(*pumps.time), no_less_than(*pumps.speed_for_time, Dimension::flow),
        reads_otherwise(line) ? ", on its data sheet too" : "");
  text += '.' + too_small(line, pumps, look);
  if (pumps.smallest && pumps.speed_for_time && *pumps.speed_for_time > pumps.tries[*pumps.smallest].free_flow)
    text += " In the [cycle] less will do, as the line is pumped down behind its valve before.";
  if (pumps.tries.size() == 1)
    text += " Only " + pump_named(pumps.tries.front()) +
            " was tried: --from FOLDER tries others, such as --from lines/catalogue.";
  return text;
}

}  // namespace airtally::report
