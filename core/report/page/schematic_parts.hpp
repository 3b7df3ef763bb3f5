#pragma once
#include <string>

#include "report/page/findings.hpp"
#include "report/page/picture.hpp"

/// What both drawings of a line, across and downwards, are made of.
namespace airtally::report::page {

/// Numbers of the line in its usual state, and how they are drawn.
class SchematicParts {
 public:
  SchematicParts(const Findings& found, const Units& units);

  const line::Element& element(std::size_t i) const { return found_.line.elements.at(i); }
  const solve::ElementState& state(std::size_t i) const { return found_.steady.front().elements.at(i); }
  /// Of a nozzle; null for anything else.
  const solve::Tip* tip(std::size_t i) const;
  bool leaks(std::size_t i) const { return state(i).leak > 0.0; }
  /// Width of an arrow for that flow [px].
  double width(double flow) const;
  /// Whether a leak is big enough to have its number beside it.
  bool worth_a_number(std::size_t i) const;
  std::string leak_text(std::size_t i) const;
  /// A name that fits, with the whole of it as the title that a pointer shows.
  void name(Markup& out, std::size_t i, double x, double y, double room, std::size_t rows,
            std::string_view anchor) const;
  void vacuum(Markup& out, double pa, double x, double y, std::string_view anchor, std::string_view kind) const;
  /// An arrow of air from one point to another, its head at the second; who points at it reads what `says`.
  void arrow(Markup& out, double x1, double y1, double x2, double y2, double flow, const std::string& says) const;
  /// "rotary joint: 2.15 L/min".
  std::string leak_says(std::size_t i) const;
  /// What is at a nozzle's mouth, with the mouth at the origin and the flow coming in from the right.
  void mouth(Markup& out, const solve::Tip& tip) const;

 private:
  const Findings& found_;
  const Units& units_;
  double most_ = 0.0, leaks_ = 0.0, deepest_ = 0.0;
};

void path(Markup& out, std::string_view d, std::string_view kind);

/// The drawing of that width: along the flow where that fits, else down the page.
std::string schematic_across(const Findings& found, const Units& units, const std::string& id, const std::string& title,
                             const std::string& text);
std::string schematic_down(const Findings& found, const Units& units, const std::string& id, const std::string& title,
                           const std::string& text, double width);
/// More elements behind one another than this and the line is drawn down the page, on a wide one too.
inline constexpr std::size_t most_across = 10;

}  // namespace airtally::report::page
