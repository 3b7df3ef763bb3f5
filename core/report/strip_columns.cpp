#include "report/strip_columns.hpp"

#include <algorithm>

namespace airtally::report {

std::vector<StripColumn> instruments(const line::Line& line, const study::Strip& strip) {
  std::vector<StripColumn> all;
  const auto add = [&](const StripColumn& i) {
    const bool reads = std::any_of(strip.steps.begin(), strip.steps.end(),
                                   [&](const study::StripStep& step) { return reading(step.readings, i).has_value(); });
    if (reads && std::find(all.begin(), all.end(), i) == all.end()) all.push_back(i);
  };
  add({strip.judge, strip.by_current});
  for (std::size_t e = 0; e < line.elements.size(); ++e)
    if (line.elements[e].gauge) add({e, false});
  for (std::size_t e = 0; e < line.elements.size(); ++e)
    if (line::is_source(line.elements[e].kind)) add({e, true});
  const bool blind = std::any_of(strip.steps.begin(), strip.steps.end(), [&](const study::StripStep& step) {
    return std::none_of(all.begin(), all.end(),
                        [&](const StripColumn& i) { return reading(step.readings, i).has_value(); });
  });
  if (blind) all.insert(all.begin() + std::min<std::ptrdiff_t>(1, std::ssize(all)), StripColumn{0, false, true});
  return all;
}

std::optional<double> reading(const study::StripStep& step, const StripColumn& instrument) {
  return instrument.loose ? std::optional(step.end) : reading(step.readings, instrument);
}

std::optional<double> reading(const std::vector<study::StripReading>& readings, const StripColumn& instrument) {
  if (instrument.loose) return std::nullopt;
  for (const study::StripReading& r : readings) {
    if (r.at != instrument.at) continue;
    if (!instrument.ammeter) return r.vacuum;
    if (r.current) return r.current;
  }
  return std::nullopt;
}

bool leaves_others_on(const line::Line& line, const study::Strip& strip) {
  const auto source = [](const line::Element& element) { return line::is_source(element.kind); };
  return strip.tips.size() > 1 || std::count_if(line.elements.begin(), line.elements.end(), source) > 1;
}

}  // namespace airtally::report
