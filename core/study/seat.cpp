#include "study/seat.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "errors.hpp"
#include "units/show.hpp"

namespace airtally::study {
namespace {

/// Lengths that differ by less, of themselves, are the same: decimal fractions of a millimetre don't add up exactly.
constexpr double same = 1e-9;

struct Sides {
  double shorter = 0.0, longer = 0.0;  // [m]
};

std::optional<Sides> sides_of(const line::Part& part) {
  if (!part.length && !part.width) return std::nullopt;
  const double length = part.length.value_or(*part.width).value, width = part.width.value_or(*part.length).value;
  return Sides{std::min(length, width), std::max(length, width)};
}

double bore_of(const line::Element& nozzle) { return std::get<line::Bore>(nozzle.restriction).bore.value; }

double offset_of(const line::Line& line) { return line.move ? line.move->offset.value : 0.0; }

std::string mm(double length) { return units::show_significant(length, "mm", 3); }

}  // namespace

std::string_view word(Seat seat) {
  constexpr std::array<std::string_view, 4> words{"closed", "sucked in", "gaping", "beside"};
  return words.at(static_cast<std::size_t>(seat));
}

double sealed_diameter(const line::Line& line, std::size_t nozzle) {
  const line::Element& element = line.elements.at(nozzle);
  if (!line.move || line.move->seal == line::SealAt::bore) return bore_of(element);
  if (!element.rim)
    throw BadInput(line.move->where,
                   fmt::format("[move]: seal = \"rim\" needs the outer diameter of the nozzle's mouth; give "
                               "element '{}' a 'rim', or say seal = \"bore\".",
                               element.name));
  return element.rim->value;
}

Seat seat_of(const line::Line& line, std::size_t nozzle) {
  const line::Element& element = line.elements.at(nozzle);
  const double mouth = sealed_diameter(line, nozzle);
  const auto sides = sides_of(*line.part);
  if (!sides) return Seat::closed;
  const double bore = bore_of(element);
  if (sides->longer <= bore * (1.0 + same)) return Seat::sucked_in;
  if (sides->shorter <= bore * (1.0 + same) || sides->shorter < mouth * (1.0 - same)) return Seat::gaping;
  if (offset_of(line) + 0.5 * mouth > 0.5 * sides->longer * (1.0 + same)) return Seat::beside;
  return Seat::closed;
}

std::string why_not_closed(const line::Line& line, std::size_t nozzle) {
  const Seat seat = seat_of(line, nozzle);
  if (seat == Seat::closed) return {};
  const line::Element& element = line.elements[nozzle];
  const Sides sides = *sides_of(*line.part);
  const double bore = bore_of(element), mouth = sealed_diameter(line, nozzle), offset = offset_of(line);
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

std::string why_not_closed(const line::Line& line) {
  for (const std::size_t nozzle : line::all_of(line, line::Kind::nozzle))
    if (std::string why = why_not_closed(line, nozzle); !why.empty()) return why;
  return {};
}

std::vector<solve::TipState> seated_tips(const line::Line& line) {
  std::vector<solve::TipState> tips;
  for (const std::size_t nozzle : line::all_of(line, line::Kind::nozzle))
    tips.push_back(seat_of(line, nozzle) == Seat::closed ? solve::TipState::part : solve::TipState::open);
  return tips;
}

}  // namespace airtally::study
