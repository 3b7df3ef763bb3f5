// A plot as a static drawing: legend above, axes and grid, bands, curves, marks, numbers.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/page/place_labels.hpp"
#include "report/page/plot.hpp"
#include "report/width.hpp"

namespace airtally::report::page {
namespace {

constexpr double small = 11.0, line_height = 16.0;

class Drawing {
 public:
  Drawing(const Plot& plot, const Units& units, double width) : plot_(plot), units_(units), width_(width) {
    left_ = 54.0;
    right_ = width - 12.0;
    top_ = 12.0 + line_height * static_cast<double>(legend_rows()) + between();
    foot_ = plot.x.of == Axis::Of::place ? (width < wide ? 96.0 : 48.0) : 42.0;
    bottom_ = top_ + plot.height - foot_;
  }

  std::string svg() {
    const bool is_wide = width_ >= wide;
    open_svg(out_, plot_.id + (is_wide ? "-w" : "-n"), plot_.title, plot_.text, width_, bottom_ + foot_);
    legend();
    grid();
    for (const Series& s : plot_.series) band(s);
    for (const Level& level : plot_.levels) draw(level);
    for (std::size_t k = 0; k < plot_.marks.size(); ++k) draw(plot_.marks[k], k);
    // The first series comes last, on top.
    for (std::size_t k = plot_.series.size(); k-- > 0;) curve(plot_.series[k]);
    notes();
    out_.close();
    return out_.take();
  }

 private:
  double px(double x) const { return left_ + (x - plot_.x.bottom) / (plot_.x.top - plot_.x.bottom) * (right_ - left_); }
  double py(double y) const {
    return bottom_ - (y - plot_.y.bottom) / (plot_.y.top - plot_.y.bottom) * (bottom_ - top_);
  }

  // ---- legend: a sample of each stroke with its name, as many in a row as fit
  double entry_width(const Series& s) const {
    return std::min(right_ - left_, 30.0 + text_width(s.name, small + 1) + 14.0);
  }
  template <class Place>
  void each_entry(const Place& place) const {
    double x = left_, y = 14.0;
    for (const Series& s : plot_.series) {
      if (x > left_ && x + entry_width(s) > right_) x = left_, y += line_height;
      place(s, x, y);
      x += entry_width(s);
    }
  }
  std::size_t legend_rows() const {
    double last = 14.0;
    each_entry([&](const Series&, double, double y) { last = y; });
    return static_cast<std::size_t>(std::lround((last - 14.0) / line_height)) + 1;
  }
  std::size_t mark_rows() const { return plot_.marks.empty() ? 0 : std::min<std::size_t>(plot_.marks.size(), 4); }
  /// Height between the name of the y axis and the plot: for the marks' words, or so much that the name stands clear of
  /// the topmost number.
  double between() const { return plot_.marks.empty() ? 9.0 : line_height * static_cast<double>(mark_rows()); }
  void legend() {
    each_entry([&](const Series& s, double x, double y) {
      if (s.stroke == Stroke::points || s.stroke == Stroke::rings)
        point(s, x + 12.0, y - 4.0);
      else
        out_.leaf("path", {{"d", fmt::format("M{} {}h24", number(x), number(y - 4.0))}, {"class", class_of(s)}});
      label(out_, x + 30.0, y, fitted(s.name, right_ - x - 30.0, small + 1), "start", "key");
    });
  }

  static std::string class_of(const Series& s) {
    const std::string_view stroke = s.stroke == Stroke::dashed   ? " dashed"
                                    : s.stroke == Stroke::dotted ? " dotted"
                                                                 : "";
    return fmt::format("curve c{}{}", s.colour, stroke);
  }
  void point(const Series& s, double x, double y) {
    out_.leaf("circle", {{"cx", number(x)},
                         {"cy", number(y)},
                         {"r", s.stroke == Stroke::rings ? "5" : "4"},
                         {"class", fmt::format("{} c{}", s.stroke == Stroke::rings ? "ring" : "point", s.colour)}});
  }

  // ---- axes
  void tick_text(const Axis& axis, double value, double x, double y, std::string_view anchor) {
    Attributes at{{"x", number(x)}, {"y", number(y)}, {"text-anchor", std::string(anchor)}, {"class", "tick"}};
    if (axis.of == Axis::Of::vacuum) {
      const auto text = [&](const Look& look) {
        const double here = units::from_si(value, *look.vacuum);
        const double step = units::from_si(tick_step(axis, units_, 6), *look.vacuum);
        return fmt::format("{:.{}f}", here, step >= 2.0 ? 0 : step >= 0.2 ? 1 : 2);
      };
      units_.said(out_, "text", text, at);
      return;
    }
    const double here = axis.unit == nullptr ? value : units::from_si(value, *axis.unit);
    out_.element("text", number(here, 6), at);
  }
  void axis_name(const Axis& axis, double x, double y, std::string_view anchor) {
    out_.open("text", {{"x", number(x)}, {"y", number(y)}, {"text-anchor", std::string(anchor)}, {"class", "axis"}});
    out_.text(axis.label);
    if (axis.of == Axis::Of::vacuum) {
      out_.text(", ");
      units_.name(out_, "tspan");
    } else if (axis.unit != nullptr) {
      out_.text(", " + std::string(axis.unit->symbol));
    }
    out_.close();
  }
  void line(double x1, double y1, double x2, double y2, std::string_view kind) {
    out_.leaf("path", {{"d", fmt::format("M{} {}L{} {}", number(x1), number(y1), number(x2), number(y2))},
                       {"class", std::string(kind)}});
  }
  void grid() {
    const double dy = tick_step(plot_.y, units_, 6);
    const auto count = static_cast<int>(std::lround((plot_.y.top - plot_.y.bottom) / dy));
    for (int k = 0; k <= count; ++k) {
      const double y = plot_.y.bottom + dy * k;
      line(left_, py(y), right_, py(y), std::abs(y) < 0.5 * dy ? "base" : "grid");
      tick_text(plot_.y, y, left_ - 6.0, py(y) + 4.0, "end");
    }
    axis_name(plot_.y, 2.0, top_ - between() - 4.0, "start");
    if (plot_.x.of == Axis::Of::place) {
      places();
      return;
    }
    const double dx = tick_step(plot_.x, units_, width_ < wide ? 5 : 9);
    for (int k = static_cast<int>(std::ceil(plot_.x.bottom / dx - 1e-9)); dx * k <= plot_.x.top * (1.0 + 1e-9); ++k) {
      line(px(dx * k), bottom_, px(dx * k), bottom_ + 4.0, "base");
      tick_text(plot_.x, dx * k, px(dx * k), bottom_ + 16.0, "middle");
    }
    axis_name(plot_.x, right_, bottom_ + 34.0, "end");
  }
  /// A name in two rows at most. What is too long loses its middle: names that begin alike are told apart by their
  /// ends.
  static std::vector<std::string> two_rows(const std::string& name, std::size_t columns) {
    std::vector<std::string> rows = wrap(name, columns);
    for (std::size_t most = 2 * columns; rows.size() > 2 && most >= columns; --most)
      rows = wrap(cut(name, most), columns);
    return rows;
  }
  void places() {
    const double each = (right_ - left_) / static_cast<double>(plot_.x.places.size());
    for (std::size_t k = 0; k < plot_.x.places.size(); ++k) {
      const double centre = left_ + each * (static_cast<double>(k) + 0.5);
      if (k > 0) line(centre - 0.5 * each, top_, centre - 0.5 * each, bottom_, "grid");
      if (each >= 56.0) {
        const std::vector<std::string> rows =
            two_rows(plot_.x.places[k], static_cast<std::size_t>(each / (0.56 * small)));
        for (std::size_t r = 0; r < rows.size(); ++r)
          label(out_, centre, bottom_ + 15.0 + 13.0 * static_cast<double>(r), rows[r], "middle", "tick");
        continue;
      }
      out_.element(
          "text", fitted(plot_.x.places[k], 92.0, small),
          {{"transform", fmt::format("translate({} {}) rotate(-60)", number(centre + 4.0), number(bottom_ + 12.0))},
           {"text-anchor", "end"},
           {"class", "tick"}});
    }
  }

  // ---- what is drawn between them
  void curve(const Series& s) {
    if (s.stroke == Stroke::points || s.stroke == Stroke::rings) {
      for (std::size_t i = 0; i < s.x.size(); ++i)
        if (std::isfinite(s.y[i])) point(s, px(s.x[i]), py(s.y[i]));
      return;
    }
    std::string d;
    bool down = false;
    for (std::size_t i = 0; i < s.x.size(); ++i) {
      if (!std::isfinite(s.y[i])) {
        down = false;
        continue;
      }
      d += fmt::format("{}{} {}", down ? 'L' : 'M', number(px(s.x[i])), number(py(s.y[i])));
      down = true;
    }
    if (!d.empty()) out_.leaf("path", {{"d", d}, {"class", class_of(s)}});
  }
  void band(const Series& s) {
    if (s.low.empty()) return;
    std::string d;
    for (std::size_t i = 0; i < s.x.size(); ++i)
      d += fmt::format("{}{} {}", i == 0 ? 'M' : 'L', number(px(s.x[i])), number(py(s.high[i])));
    for (std::size_t i = s.x.size(); i-- > 0;) d += fmt::format("L{} {}", number(px(s.x[i])), number(py(s.low[i])));
    out_.leaf("path", {{"d", d + 'Z'}, {"class", fmt::format("band c{}", s.colour)}});
  }
  void draw(const Level& level) {
    line(left_, py(level.at), right_, py(level.at), "level");
    if (level.text.empty()) return;
    label(out_, right_ - 4.0, py(level.at) - 4.0, fitted(level.text, right_ - left_, small), "end", "mark");
  }
  void draw(const Mark& mark, std::size_t k) {
    const double x = px(mark.at), rows = static_cast<double>(mark_rows());
    const double y = top_ - 6.0 - line_height * (rows - 1.0 - static_cast<double>(k % 4));
    line(x, y - 8.0, x, bottom_, "moment");
    const double wide_text = text_width(mark.text, small);
    const bool right = x + 6.0 + wide_text <= width_ || x - left_ < wide_text;
    const std::string text = fitted(mark.text, right ? width_ - x - 6.0 : x - 6.0, small);
    label(out_, right ? x + 5.0 : x - 5.0, y, text, right ? "start" : "end", "mark");
  }
  void notes() {
    double top = 0.0;
    for (const Note& note : plot_.notes) top = std::max(top, std::abs(note.pa));
    PlacedLabels placed;
    for (const Note& note : plot_.notes) {
      const double wide = text_width("-00.00", small);
      Box box{px(note.x) + 3.0, py(note.y) - small, wide, small + 2.0};
      if (box.x + box.width > right_) box.x = px(note.x) - wide - 3.0;
      if (!placed.place(box, 3.0 * line_height) || box.y < top_ - 4.0 || box.y + box.height > bottom_) continue;
      const auto text = [&](const Look& look) { return vacuum_scale(look, top).gain(note.pa); };
      units_.said(out_, "text", text, {{"x", number(box.x)}, {"y", number(box.y + small)}, {"class", "note"}});
    }
  }

  const Plot& plot_;
  const Units& units_;
  double width_, left_ = 0.0, right_ = 0.0, top_ = 0.0, bottom_ = 0.0, foot_ = 0.0;
  Markup out_;
};

}  // namespace

std::string drawn(const Plot& plot, const Units& units, double width) { return Drawing(plot, units, width).svg(); }

Picture picture_of(const Plot& plot, const Units& units) {
  Picture picture;
  picture.id = plot.id;
  picture.title = plot.title;
  picture.text = plot.text;
  picture.on_wide = drawn(plot, units, wide);
  picture.on_narrow = drawn(plot, units, narrow);
  picture.live = plot_json(plot);
  return picture;
}

}  // namespace airtally::report::page
