#include "hunt/readings/contradicting.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "hunt/readings/beside.hpp"
#include "units/show.hpp"

namespace airtally::hunt {
namespace {

std::string said(const Beside& b) {
  const std::string value = is_gauge(b.instrument) ? units::show(b.read, "kPa", 1) : units::show(b.read, "mA", 0);
  return b.where.line > 0 ? to_string(b.where) + ": " + value : value;
}

}  // namespace

std::vector<std::string> contradicting(const line::Line& line, const Readings& readings,
                                       const std::vector<solve::TipState>& tips) {
  const auto blind = [](const Reading& reading) { return reading.setting.hole == 0.0; };
  if (std::count_if(readings.list.begin(), readings.list.end(), blind) < 2) return {};
  const BesideAll all = beside(line, study::strip(line, tips), readings);
  std::vector<std::string> sentences;
  for (const Contradiction& pair : all.contradictions) {
    const Beside &nearer = all.list[pair.nearer], &beyond = all.list[pair.beyond];
    sentences.push_back(
        pair.same_step
            ? fmt::format("{} disagrees with {}, the same setting: take both again.", said(beyond), said(nearer))
            : fmt::format(
                  "{} contradicts {}, with less of the line on the pump. More line leaks more, so the vacuum can "
                  "only fall: one was misread, or the pump ran differently; take both again.",
                  said(beyond), said(nearer)));
  }
  return sentences;
}

}  // namespace airtally::hunt
