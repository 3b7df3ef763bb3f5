#include "report/page/schematic_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report::page {

void path(Markup& out, std::string_view d, std::string_view kind) {
  out.leaf("path", {{"d", std::string(d)}, {"class", std::string(kind)}});
}

SchematicParts::SchematicParts(const Findings& found, const Units& units) : found_(found), units_(units) {
  for (const auto& e : found.steady.front().elements) {
    most_ = std::max(most_, e.leak);
    leaks_ += e.leak;
    deepest_ = std::max(deepest_, std::abs(e.vacuum));
  }
  for (const solve::Tip& tip : found.steady.front().tips) most_ = std::max(most_, std::abs(tip.flow));
}

const solve::Tip* SchematicParts::tip(std::size_t i) const {
  for (const solve::Tip& tip : found_.steady.front().tips)
    if (tip.element == i) return &tip;
  return nullptr;
}

double SchematicParts::width(double flow) const {
  constexpr double thinnest = 1.0, thickest = 11.0;
  return most_ > 0.0 ? std::max(thinnest, thickest * std::abs(flow) / most_) : thinnest;
}

bool SchematicParts::worth_a_number(std::size_t i) const { return state(i).leak > 0.02 * leaks_; }

std::string SchematicParts::leak_text(std::size_t i) const { return leak_scale(leaks_).text(state(i).leak); }

std::string SchematicParts::leak_says(std::size_t i) const {
  return harmless(element(i).name) + ": leak " + leak_text(i);
}

void SchematicParts::name(Markup& out, std::size_t i, double x, double y, double room, std::size_t rows,
                          std::string_view anchor) const {
  constexpr double size = 11.0;
  const std::string whole = harmless(element(i).name);
  std::vector<std::string> lines = wrap(whole, static_cast<std::size_t>(std::max(4.0, room / (0.56 * size))));
  const bool more = lines.size() > rows;
  if (more) {
    lines.resize(rows);
    lines.back() = fitted(lines.back() + "…", room, size);
  }
  out.open("g").element("title", whole);
  for (std::size_t k = 0; k < lines.size(); ++k)
    label(out, x, y + 13.0 * static_cast<double>(k), lines[k], anchor, "part");
  out.close();
}

void SchematicParts::vacuum(Markup& out, double pa, double x, double y, std::string_view anchor,
                            std::string_view kind) const {
  const auto text = [&](const Look& look) { return vacuum_scale(look, deepest_).text(pa); };
  units_.said(out, "text", text,
              {{"x", number(x)}, {"y", number(y)}, {"text-anchor", std::string(anchor)}, {"class", std::string(kind)}});
}

void SchematicParts::arrow(Markup& out, double x1, double y1, double x2, double y2, double flow,
                           const std::string& says) const {
  const double w = width(flow), length = std::hypot(x2 - x1, y2 - y1);
  const double ux = (x2 - x1) / length, uy = (y2 - y1) / length, head = std::min(length, 6.0 + 0.6 * w),
               side = 3.0 + 0.9 * w;
  const double bx = x2 - ux * head, by = y2 - uy * head;
  const auto at = [](double x, double y) { return number(x) + ' ' + number(y); };
  out.open("g", {{"class", "reads"}}).element("title", says);
  out.leaf("path", {{"d", 'M' + at(x1, y1) + 'L' + at(x2, y2)}, {"class", "hit"}});
  out.leaf("path", {{"d", 'M' + at(x1, y1) + 'L' + at(bx, by)}, {"class", "air"}, {"stroke-width", number(w)}});
  out.leaf("path", {{"d", 'M' + at(x2, y2) + 'L' + at(bx - uy * side, by + ux * side) + 'L' +
                              at(bx + uy * side, by - ux * side) + 'Z'},
                    {"class", "airhead"}});
  out.close();
}

void SchematicParts::mouth(Markup& out, const solve::Tip& tip) const {
  if (tip.state == solve::TipState::part) path(out, "M3 -11H9V11H3Z", "held");
  if (tip.state == solve::TipState::blocked) path(out, "M3 -9V9", "stop");
  if (tip.state == solve::TipState::open && tip.flow > 0.0)
    arrow(out, 34.0, 0.0, 4.0, 0.0, tip.flow, harmless(element(tip.element).name) + ": " + flow(tip.flow));
}

}  // namespace airtally::report::page
