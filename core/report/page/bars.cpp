#include "report/page/bars.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace airtally::report::page {
namespace {

constexpr double bar_row = 24.0, thick = 14.0, bar_letters = 12.0, bars_head = 26.0;

/// What one block has to show [SI].
struct Span {
  double low = 0.0, high = 0.0;
};

Span span_of(const BarBlock& block) {
  Span span;
  for (const auto& bar : block.bars) {
    if (!bar) continue;
    for (const double v : {bar->from, bar->from + bar->size, bar->band ? bar->band->low : bar->from,
                           bar->band ? bar->band->high : bar->from}) {
      span.low = std::min(span.low, v);
      span.high = std::max(span.high, v);
    }
  }
  // What no gauge could show is the solver's rounding; drawn over the whole width it would look like something.
  const double noise = block.vacuum ? 1e-6 : 0.0;  // [Pa]
  if (!(span.high - span.low > noise)) span.high = span.low + 1.0;
  return span;
}

class Block {
 public:
  Block(Markup& out, const BarBlock& block, const std::vector<std::string>& names, const Units& units, double left,
        double width, double top)
      : out_(out), block_(block), names_(names), units_(units), span_(span_of(block)), left_(left), top_(top) {
    for (const auto& bar : block.bars)
      if (bar) largest_ = std::max(largest_, std::abs(bar->size));
    number_ = text_width(block.vacuum ? "+000.0" : longest(), bar_letters) + 8.0;
    room_ = std::max(20.0, width - number_ - 6.0);
  }

  void draw() {
    title();
    line(px(0.0), top_ + bars_head, px(0.0), top_ + bars_head + bar_row * static_cast<double>(block_.bars.size()),
         "base");
    for (std::size_t k = 0; k < block_.bars.size(); ++k) {
      if (!block_.bars[k]) continue;
      const Bar& bar = *block_.bars[k];
      const double y = top_ + bars_head + bar_row * (static_cast<double>(k) + 0.5);
      const double a = px(std::min(bar.from, bar.from + bar.size)), b = px(std::max(bar.from, bar.from + bar.size));
      out_.open("g", {{"class", "reads"}});
      reads(bar, names_.at(k));
      out_.leaf("rect", {{"x", number(left_)},
                         {"y", number(y - 0.5 * bar_row)},
                         {"width", number(room_ + number_)},
                         {"height", number(bar_row)},
                         {"class", "hit"}});
      out_.leaf("rect", {{"x", number(a)},
                         {"y", number(y - 0.5 * thick)},
                         {"width", number(std::max(1.0, b - a))},
                         {"height", number(thick)},
                         {"class", fmt::format("bar c{}", bar.colour)}});
      if (bar.band) whisker(*bar.band, y);
      write_number(bar, b, y);
      out_.close();
    }
  }

  /// What a pointer reads on a row: its name, and the number with its unit and band.
  void reads(const Bar& bar, const std::string& name) {
    if (!block_.vacuum) {
      out_.element("title", name + ", " + block_.title + ": " + bar.text + ' ' + block_.unit);
      return;
    }
    units_.said(out_, "title", [&](const Look& look) {
      const Scale scale = vacuum_scale(look, largest_);
      std::string text =
          name + ", " + block_.title + ": " + (bar.gain && bar.size > 0.0 ? "+" : "") + scale.text(bar.size);
      if (bar.band)
        text += ", nine in ten " + scale.number(bar.band->low - bar.from) + " .. " +
                scale.number(bar.band->high - bar.from);
      return text;
    });
  }

 private:
  std::string longest() const {
    std::string text;
    for (const auto& bar : block_.bars)
      if (bar && bar->text.size() > text.size()) text = bar->text;
    return text;
  }
  double px(double value) const { return left_ + (value - span_.low) / (span_.high - span_.low) * room_; }
  void line(double x1, double y1, double x2, double y2, std::string_view kind) {
    out_.leaf("path", {{"d", fmt::format("M{} {}L{} {}", number(x1), number(y1), number(x2), number(y2))},
                       {"class", std::string(kind)}});
  }
  void title() {
    out_.open("text", {{"x", number(left_)}, {"y", number(top_ + 15.0)}, {"class", "axis"}});
    out_.text(block_.title + ", ");
    if (block_.vacuum)
      units_.name(out_, "tspan");
    else
      out_.text(block_.unit);
    out_.close();
  }
  void whisker(const study::Band& band, double y) {
    const double a = px(band.low), b = px(band.high);
    line(a, y, b, y, "whisker");
    line(a, y - 4.0, a, y + 4.0, "whisker");
    line(b, y - 4.0, b, y + 4.0, "whisker");
  }
  void write_number(const Bar& bar, double end, double y) {
    const double x = std::max(end, bar.band ? px(bar.band->high) : end) + 5.0;
    const Attributes at{{"x", number(x)}, {"y", number(y + 4.0)}, {"class", "value"}};
    if (block_.vacuum)
      units_.vacuum(out_, "text", bar.size, largest_, bar.gain, at);
    else
      out_.element("text", bar.text, at);
  }

  Markup& out_;
  const BarBlock& block_;
  const std::vector<std::string>& names_;
  const Units& units_;
  Span span_;
  double left_, top_, number_ = 0.0, room_ = 0.0, largest_ = 0.0;
};

void names_of(Markup& out, const std::vector<std::string>& names, double width, double top) {
  for (std::size_t k = 0; k < names.size(); ++k)
    label(out, width, top + bars_head + bar_row * (static_cast<double>(k) + 0.5) + 4.0,
          fitted(names[k], width, bar_letters), "end", "name");
}

}  // namespace

std::string bars_drawn(const std::string& id, const std::string& title, const std::string& text,
                       const std::vector<std::string>& names, const std::vector<BarBlock>& blocks, const Units& units,
                       double width) {
  const bool beside = width >= wide;
  double longest = 0.0;
  for (const std::string& name : names) longest = std::max(longest, text_width(name, bar_letters));
  const double left = std::min(longest, beside ? 170.0 : 118.0) + 10.0;
  const double count = static_cast<double>(blocks.size());
  const double high = bars_head + bar_row * static_cast<double>(names.size()) + 10.0;
  Markup out;
  open_svg(out, id + (beside ? "-w" : "-n"), title, text, width, beside ? high : high * count);
  const double gap = 14.0, each = beside ? (width - left - gap * (count - 1.0)) / count : width - left;
  for (std::size_t k = 0; k < blocks.size(); ++k) {
    const double shift = static_cast<double>(k);
    if (k == 0 || !beside) names_of(out, names, left - 10.0, beside ? 0.0 : high * shift);
    Block(out, blocks[k], names, units, beside ? left + (each + gap) * shift : left, each, beside ? 0.0 : high * shift)
        .draw();
  }
  out.close();
  return out.take();
}

}  // namespace airtally::report::page
