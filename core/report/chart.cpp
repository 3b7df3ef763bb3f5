#include "report/chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/canvas.hpp"
#include "report/width.hpp"

namespace airtally::report {
namespace {

constexpr std::array<std::string_view, 6> markers{"o", "x", "+", "*", "#", "@"};

/// One axis from zero to `top`, a tick every `step`.
struct Axis {
  double top = 1.0;
  double step = 1.0;
  int decimals() const { return std::max(0, -static_cast<int>(std::floor(std::log10(step) + 1e-9))); }
  std::string label(double at) const { return fmt::format("{:.{}f}", at, decimals()); }
  std::size_t ticks() const { return static_cast<std::size_t>(std::floor(top / step + 1e-9)); }
};

double largest(const std::vector<Curve>& curves, std::vector<double> Curve::*values) {
  double top = 0.0;
  for (const Curve& curve : curves)
    for (const double v : curve.*values)
      if (std::isfinite(v)) top = std::max(top, v);
  return top > 0.0 ? top : 1.0;
}

/// The curve's value at `x` by straight lines between its points; nothing outside them.
std::optional<double> value_at(const Curve& curve, double x) {
  const std::size_t n = std::min(curve.x.size(), curve.y.size());
  for (std::size_t i = 0; i + 1 < n; ++i) {
    const double a = curve.x[i], b = curve.x[i + 1];
    if (x < a || x > b) continue;
    const double share = b > a ? (x - a) / (b - a) : 1.0;
    const double y = curve.y[i] + share * (curve.y[i + 1] - curve.y[i]);
    if (std::isfinite(y)) return y;
  }
  return std::nullopt;
}

std::size_t place(double share, std::size_t steps) {
  return static_cast<std::size_t>(std::lround(std::clamp(share, 0.0, 1.0) * static_cast<double>(steps - 1)));
}

/// Calls `set(x, y)` for every step of x of a grid, y counted from the top, filling the jumps from one x to the next.
template <class Set>
void trace(const Curve& curve, const Axis& x, const Axis& y, std::size_t wide, std::size_t high, const Set& set) {
  bool joined = false;  // whether `before` is the place one step to the left
  std::size_t before = 0;
  for (std::size_t c = 0; c < wide; ++c) {
    const auto value = value_at(curve, x.top * static_cast<double>(c) / static_cast<double>(wide - 1));
    if (!value) {
      joined = false;
      continue;
    }
    const std::size_t here = high - 1 - place(*value / y.top, high);
    // The rows jumped over belong to this column, so that steep curves stay joined.
    std::size_t from = here, to = here;
    if (joined && before > here + 1) to = before - 1;
    if (joined && before + 1 < here) from = before + 1;
    for (std::size_t r = from; r <= to; ++r) set(c, r);
    before = here;
    joined = true;
  }
}

std::string right_trimmed(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

/// Texts of a row below the axis: each centred on its column as far as the row allows, none over another.
class Underline {
 public:
  explicit Underline(std::size_t columns) : room_(columns) {}
  void add(std::size_t centre, const std::string& text) {
    const std::size_t wide = width(text);
    if (wide > room_) return;
    const std::size_t start = std::min(centre > wide / 2 ? centre - wide / 2 : 0, room_ - wide);
    const std::size_t used = width(line_);
    if (!line_.empty() && start < used + 1) return;
    line_ += std::string(start - used, ' ') + text;
  }
  const std::string& line() const { return line_; }

 private:
  std::size_t room_;
  std::string line_;
};

/// A pointer in that column with the mark's text beside it, on the right or, for want of room, on the left.
std::string below_mark(std::size_t column, const Chart& chart, const std::string& pointer) {
  const std::size_t wide = width(chart.mark_text);
  if (column + 2 + wide <= chart.columns || column < wide + 1)
    return std::string(column, ' ') + pointer + ' ' + chart.mark_text;
  return std::string(column - wide - 1, ' ') + chart.mark_text + ' ' + pointer;
}

void paint(Canvas& canvas, const Chart& chart, const Axis& x, const Axis& y, std::size_t wide, const Style& style) {
  if (chart.mark)
    for (std::size_t r = 0; r < chart.rows; ++r)
      canvas.put(place(*chart.mark / x.top, wide), r, style.ascii ? ":" : "┊");
  if (chart.curves.size() == 1 && !style.ascii) {
    trace(chart.curves.front(), x, y, 2 * wide, 4 * chart.rows,
          [&](std::size_t c, std::size_t r) { canvas.dot(c, r); });
    return;
  }
  // The first curve comes last, on top.
  for (std::size_t k = std::min(chart.curves.size(), markers.size()); k-- > 0;)
    trace(chart.curves[k], x, y, wide, chart.rows,
          [&](std::size_t c, std::size_t r) { canvas.put(c, r, std::string(markers[k])); });
}

}  // namespace

double round_step(double span, std::size_t parts) {
  const double least = span / static_cast<double>(parts);
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (factor * power >= least * (1.0 - 1e-12)) return factor * power;
  return 10.0 * power;
}

std::string draw(const Chart& chart, const Style& style) {
  const bool ascii = style.ascii;
  Axis x, y;
  x.top = largest(chart.curves, &Curve::x);
  x.step = round_step(x.top, 8);
  y.step = round_step(largest(chart.curves, &Curve::y), 5);
  y.top = y.step * std::ceil(largest(chart.curves, &Curve::y) / y.step - 1e-9);

  const std::size_t margin = std::max(width(y.label(y.top)), width(chart.y_unit)) + 1;
  const std::size_t wide = chart.columns - margin - 1;
  Canvas canvas(wide, chart.rows);
  paint(canvas, chart, x, y, wide, style);

  std::vector<std::string> labels(chart.rows);
  for (std::size_t k = 1; k <= y.ticks(); ++k) {
    const double at = y.step * static_cast<double>(k);
    labels[chart.rows - 1 - place(at / y.top, chart.rows)] = y.label(at);
  }
  std::string out = style.dim(pad_left(chart.y_unit, margin - 1)) + '\n';
  for (std::size_t r = 0; r < chart.rows; ++r) {
    const std::string_view side = labels[r].empty() ? (ascii ? "|" : "│") : (ascii ? "+" : "┤");
    const std::string curve = right_trimmed(canvas.row(r));
    out += style.dim(pad_left(labels[r], margin - 1) + ' ' + std::string(side)) + style.marked(curve) + '\n';
  }
  std::string axis = std::string(margin, ' ') + (ascii ? "+" : "└");
  std::vector<std::string> cells(wide, ascii ? "-" : "─");
  Underline numbers(wide + margin + 1);
  numbers.add(margin, "0");
  const std::string last = x.label(x.step * static_cast<double>(x.ticks())) + ' ' + chart.x_unit;
  for (std::size_t k = 1; k <= x.ticks(); ++k) {
    const double at = x.step * static_cast<double>(k);
    const std::size_t column = place(at / x.top, wide);
    cells[column] = ascii ? "+" : "┬";
    numbers.add(margin + 1 + column, k == x.ticks() ? last : x.label(at));
  }
  for (const std::string& cell : cells) axis += cell;
  out += style.dim(axis) + '\n' + style.dim(numbers.line()) + '\n';
  if (chart.mark) {
    out += below_mark(margin + 1 + place(*chart.mark / x.top, wide), chart, ascii ? "^" : "▲") + '\n';
  }
  if (chart.curves.size() > 1)
    for (std::size_t k = 0; k < std::min(chart.curves.size(), markers.size()); ++k)
      out += std::string(margin + 1, ' ') + style.marked(markers[k]) + ' ' +
             cut(chart.curves[k].name, wide - 4, style.cut_mark()) + '\n';
  return out;
}

}  // namespace airtally::report
