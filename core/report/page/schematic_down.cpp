#include <fmt/format.h>

#include <algorithm>

#include "report/page/flow_layout.hpp"
#include "report/page/schematic_parts.hpp"
#include "report/page/symbols.hpp"

namespace airtally::report::page {
namespace {

constexpr double lane_row = 66.0, first_lane = 52.0, lane_width = 30.0, above_first = 8.0;

class Down {
 public:
  Down(const Findings& found, const Units& units, double width)
      : parts_(found, units),
        line_(found.line),
        topology_(line::topology(found.line)),
        cells_(downwards(topology_)),
        width_(width) {
    at_.resize(line_.elements.size());
    for (const FlowCell& cell : cells_) {
      // Deep nesting must leave room for names.
      const double x = std::min(first_lane + lane_width * static_cast<double>(cell.lane), 0.45 * width);
      at_[cell.element] = {x, above_first + lane_row * static_cast<double>(cell.depth)};
      text_x_ = std::max(text_x_, x + 54.0);
    }
  }

  std::string svg(const std::string& id, const std::string& title, const std::string& text) {
    open_svg(out_, id + (width_ < wide ? "-n" : "-w"), title, text, width_,
             above_first + lane_row * static_cast<double>(cells_.size()) + 16.0);
    for (const FlowCell& cell : cells_) links(cell.element);
    for (const FlowCell& cell : cells_) draw(cell.element);
    out_.close();
    return out_.take();
  }

 private:
  struct Point {
    double x = 0.0, y = 0.0;
  };

  void links(std::size_t i) {
    const Point here = at_[i];
    const std::size_t before = topology_.before[i];
    if (before != line::none) {
      const Point there = at_[before];
      path(out_,
           fmt::format("M{} {}V{}H{}", number(there.x), number(there.y + lane_row), number(here.y), number(here.x)),
           "ink");
    }
    if (topology_.joined[i] != line::none) {
      const Point other = at_[topology_.joined[i]];
      path(out_,
           fmt::format("M{} {}H10V{}H{}", number(here.x), number(here.y + lane_row), number(other.y + lane_row),
                       number(other.x)),
           "dash");
    }
    if (topology_.beyond[i].size() > 1)
      out_.leaf("circle", {{"cx", number(here.x)}, {"cy", number(here.y + lane_row)}, {"r", "3"}, {"class", "dot"}});
  }

  void draw(std::size_t i) {
    const auto [x, y] = at_[i];
    const line::Element& element = line_.elements[i];
    const bool source = line::is_source(element.kind), place = line::is_place(element.kind);
    const solve::Tip* tip = parts_.tip(i);
    const double centre = y + 0.5 * lane_row;
    if (!source) path(out_, fmt::format("M{} {}V{}", number(x), number(y), number(centre - symbol_half)), "ink");
    if (tip == nullptr && element.kind != line::Kind::plug)
      path(out_, fmt::format("M{} {}V{}", number(x), number(centre + symbol_half), number(y + lane_row)), "ink");
    out_.open("g", {{"transform", fmt::format("translate({} {}) rotate(90)", number(x), number(centre))}});
    out_.element("title", harmless(element.name) + ": " + std::string(symbol_words(element)));
    draw_symbol(out_, element);
    out_.close();
    if (element.gauge) {
      out_.open("g", {{"transform", fmt::format("translate({} {}) rotate(-90)", number(x),
                                                number(place ? centre : y + lane_row - 12.0))}});
      draw_gauge(out_);
      out_.close();
    }
    parts_.name(out_, i, text_x_, centre + 4.0, width_ - text_x_ - 84.0, 1, "start");
    if (parts_.leaks(i)) {
      const double ly = y + lane_row - (tip != nullptr ? 22.0 : 4.0);
      parts_.arrow(out_, x + 42.0, ly, x + 2.0, ly, parts_.state(i).leak, parts_.leak_says(i));
      if (parts_.worth_a_number(i))
        label(out_, std::max(text_x_, x + 48.0), ly + 3.0, "leak " + parts_.leak_text(i), "start", "leak");
    }
    if (tip != nullptr) {
      out_.open("g", {{"transform", fmt::format("translate({} {}) rotate(90)", number(x), number(centre + 14.0))}});
      if (tip->state != solve::TipState::open) parts_.mouth(out_, *tip);
      out_.close();
      parts_.vacuum(out_, tip->tip_vacuum(), width_ - 4.0, centre + 5.0, "end", "result");
    } else {
      parts_.vacuum(out_, parts_.state(i).vacuum, width_ - 4.0, centre + 4.0, "end", "level-text");
    }
  }

  SchematicParts parts_;
  const line::Line& line_;
  line::Topology topology_;
  std::vector<FlowCell> cells_;
  double width_, text_x_ = 0.0;
  std::vector<Point> at_;
  Markup out_;
};

}  // namespace

std::string schematic_down(const Findings& found, const Units& units, const std::string& id, const std::string& title,
                           const std::string& text, double width) {
  return Down(found, units, width).svg(id, title, text);
}

}  // namespace airtally::report::page
