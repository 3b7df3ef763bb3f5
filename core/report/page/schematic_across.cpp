#include <fmt/format.h>

#include <algorithm>

#include "report/page/flow_layout.hpp"
#include "report/page/place_labels.hpp"
#include "report/page/schematic_parts.hpp"
#include "report/page/symbols.hpp"

namespace airtally::report::page {
namespace {

constexpr double left = 6.0, tip_room = 74.0, above_plain = 22.0, above_valve = 50.0, above_leak = 72.0, below = 76.0;

class Across {
 public:
  Across(const Findings& found, const Units& units)
      : parts_(found, units), line_(found.line), topology_(line::topology(found.line)), cells_(across(topology_)) {
    for (const FlowCell& cell : cells_) {
      columns_ = std::max(columns_, cell.depth + 1);
      above_.resize(std::max(above_.size(), cell.lane + 1), above_plain);
      double& above = above_[cell.lane];
      if (line_.elements[cell.element].kind == line::Kind::valve) above = std::max(above, above_valve);
      if (parts_.leaks(cell.element) || line_.elements[cell.element].gauge) above = std::max(above, above_leak);
    }
    double y = 0.0;
    for (const double above : above_) {
      lane_y_.push_back(y + above);
      y += above + below;
    }
    height_ = y;
    each_ = (wide - left - tip_room) / static_cast<double>(columns_);
    at_.resize(line_.elements.size());
    for (const FlowCell& cell : cells_)
      at_[cell.element] = {left + each_ * static_cast<double>(cell.depth), lane_y_[cell.lane]};
  }

  std::string svg(const std::string& id, const std::string& title, const std::string& text) {
    open_svg(out_, id + "-w", title, text, wide, height_);
    for (const FlowCell& cell : cells_) links(cell.element);
    for (const FlowCell& cell : cells_) draw(cell.element);
    out_.close();
    return out_.take();
  }

 private:
  struct Point {
    double x = 0.0, y = 0.0;
  };
  double end_x(std::size_t i) const { return at_[i].x + each_; }

  /// From the end of the element before to where this one starts; to the end that it is joined with.
  void links(std::size_t i) {
    const Point here = at_[i];
    const std::size_t before = topology_.before[i];
    if (before != line::none && at_[before].y != here.y)
      path(out_, fmt::format("M{} {}V{}", number(end_x(before)), number(at_[before].y), number(here.y)), "ink");
    if (topology_.joined[i] != line::none) {
      const std::size_t other = topology_.joined[i];
      path(out_,
           fmt::format("M{} {}L{} {}", number(end_x(i)), number(here.y), number(end_x(other)), number(at_[other].y)),
           "dash");
    }
    if (topology_.beyond[i].size() > 1)
      out_.leaf("circle", {{"cx", number(end_x(i))}, {"cy", number(here.y)}, {"r", "3"}, {"class", "dot"}});
  }

  void draw(std::size_t i) {
    const auto [x, y] = at_[i];
    const double centre = x + 0.5 * each_;
    const line::Element& element = line_.elements[i];
    const bool source = line::is_source(element.kind), last = parts_.tip(i) != nullptr;
    if (!source) path(out_, fmt::format("M{} {}H{}", number(x), number(y), number(centre - symbol_half)), "ink");
    if (!last && element.kind != line::Kind::plug)
      path(out_, fmt::format("M{} {}H{}", number(centre + symbol_half), number(y), number(x + each_)), "ink");
    out_.open("g", {{"transform", fmt::format("translate({} {})", number(centre), number(y))}});
    out_.element("title", harmless(element.name) + ": " + std::string(symbol_words(element)));
    draw_symbol(out_, element);
    out_.close();
    double leak_x = x + each_ - (last ? 0.5 * each_ - 4.0 : 0.0);
    if (element.gauge) {
      const double gx = line::is_place(element.kind) ? centre : x + each_;
      out_.open("g", {{"transform", fmt::format("translate({} {})", number(gx), number(y))}});
      draw_gauge(out_);
      out_.close();
      if (gx > centre) leak_x -= 16.0;
    }
    if (parts_.leaks(i)) leak(i, leak_x, y);
    parts_.name(out_, i, centre, y + 36.0, each_ - 4.0, 2, "middle");
    if (const solve::Tip* tip = parts_.tip(i)) {
      out_.open("g", {{"transform", fmt::format("translate({} {})", number(centre + 14.0), number(y))}});
      parts_.mouth(out_, *tip);
      out_.close();
      const double open_arrow = tip->state == solve::TipState::open ? 38.0 : 12.0;
      parts_.vacuum(out_, tip->tip_vacuum(), centre + 18.0 + open_arrow, y + 5.0, "start", "result");
    } else {
      parts_.vacuum(out_, parts_.state(i).vacuum, centre, y + 63.0, "middle", "level-text");
    }
  }

  void leak(std::size_t i, double x, double y) {
    parts_.arrow(out_, x, y - 46.0, x, y - 2.0, parts_.state(i).leak, parts_.leak_says(i));
    if (!parts_.worth_a_number(i)) return;
    const std::string text = parts_.leak_text(i);
    const double w = text_width(text, 11.0);
    Box box{std::min(x - 0.5 * w, wide - w), y - 62.0, w, 12.0};
    if (!labels_.place(box, 26.0)) return;
    label(out_, box.x + 0.5 * w, box.y + 11.0, text, "middle", "leak");
  }

  SchematicParts parts_;
  const line::Line& line_;
  line::Topology topology_;
  std::vector<FlowCell> cells_;
  std::size_t columns_ = 0;
  std::vector<double> above_, lane_y_;
  std::vector<Point> at_;
  double height_ = 0.0, each_ = 0.0;
  PlacedLabels labels_;
  Markup out_;
};

}  // namespace

std::string schematic_across(const Findings& found, const Units& units, const std::string& id, const std::string& title,
                             const std::string& text) {
  return Across(found, units).svg(id, title, text);
}

}  // namespace airtally::report::page
