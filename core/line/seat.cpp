#include "line/seat.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "errors.hpp"
#include "units/show.hpp"

namespace airtally::line {
namespace {

/// Lengths that differ by less, of themselves, are the same: decimal fractions of a millimetre don't add up exactly.
constexpr double rounding = 1e-9;

double bore_of(const Element& nozzle) { return std::get<Bore>(nozzle.restriction).bore.value; }

double offset_of(const Line& line) { return line.move ? line.move->offset.value : 0.0; }

std::string mm(double length) { return units::show_significant(length, "mm", 3); }

/// What has to seal, also where the file leaves the rim out.
double mouth_of(const Line& line, const Element& nozzle) {
  const bool at_rim = line.move && line.move->seal == SealAt::rim && nozzle.rim;
  return at_rim ? nozzle.rim->value : bore_of(nozzle);
}

}  // namespace

std::string_view word(Seat seat) {
  constexpr std::array<std::string_view, 4> words{"closed", "sucked in", "gaping", "beside"};
  return words.at(static_cast<std::size_t>(seat));
}

std::optional<Sides> sides_of(const Part& part) {
  if (!part.length && !part.width) return std::nullopt;
  const double length = part.length.value_or(*part.width).value, width = part.width.value_or(*part.length).value;
  return Sides{std::min(length, width), std::max(length, width)};
}

double sealed_diameter(const Line& line, std::size_t nozzle) {
  const Element& element = line.elements.at(nozzle);
  if (!line.move || line.move->seal == SealAt::bore) return bore_of(element);
  if (!element.rim)
    throw BadInput(line.move->where,
                   fmt::format("[move]: seal = \"rim\" needs the outer diameter of the nozzle's mouth; give "
                               "element '{}' a 'rim', or say seal = \"bore\".",
                               element.name));
  return element.rim->value;
}

Seat seat_of(const Line& line, std::size_t nozzle) {
  const Element& element = line.elements.at(nozzle);
  if (!std::holds_alternative<Bore>(element.restriction)) return Seat::closed;  // nothing is known of its mouth
  const double mouth = mouth_of(line, element);
  const auto sides = sides_of(*line.part);
  if (!sides) return Seat::closed;
  const double bore = bore_of(element);
  if (sides->longer <= bore * (1.0 + rounding)) return Seat::sucked_in;
  if (sides->shorter <= bore * (1.0 + rounding) || sides->shorter < mouth * (1.0 - rounding)) return Seat::gaping;
  if (offset_of(line) + 0.5 * mouth > 0.5 * sides->longer * (1.0 + rounding)) return Seat::beside;
  return Seat::closed;
}

std::string why_not_closed(const Line& line, std::size_t nozzle) {
  const Seat seat = seat_of(line, nozzle);
  if (seat == Seat::closed) return {};
  const Element& element = line.elements[nozzle];
  const Sides sides = *sides_of(*line.part);
  const double bore = bore_of(element), mouth = mouth_of(line, element), offset = offset_of(line);
  const char* what = mouth > bore ? "rim" : "bore";
  if (seat == Seat::sucked_in)
    return fmt::format("the part, {} at its longest, is no larger than the bore of '{}', {}: it is sucked in",
                       mm(sides.longer), element.name, mm(bore));
  if (seat == Seat::gaping)
    return fmt::format("the part, {} on its short side, does not cover the {} of '{}', {}, and can't close it",
                       mm(sides.shorter), what, element.name, mm(mouth));
  if (offset >= 0.5 * sides.longer)
    return fmt::format("picked {} off its middle, the part, {} at its longest, lies {} beside the axis of '{}'",
                       mm(offset), mm(sides.longer), mm(offset - 0.5 * sides.longer), element.name);
  return fmt::format(
      "picked {} off its middle, the part, {} at its longest, leaves {} of the {} of '{}', {}, uncovered", mm(offset),
      mm(sides.longer), mm(offset + 0.5 * mouth - 0.5 * sides.longer), what, element.name, mm(mouth));
}

std::string why_not_closed(const Line& line) {
  for (const std::size_t nozzle : all_of(line, Kind::nozzle))
    if (std::string why = why_not_closed(line, nozzle); !why.empty()) return why;
  return {};
}

}  // namespace airtally::line
