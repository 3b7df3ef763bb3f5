#include "docs/picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace airtally::pictures {
namespace {

constexpr double wide = 560.0, high = 300.0;
constexpr double left = 64.0, right = 150.0, top = 14.0, bottom = 46.0;  // margins; labels of curves stand on the right
constexpr std::array<const char*, 5> colours{"#1f5a8c", "#b4500f", "#3d7a3d", "#7b3f8c", "#555555"};
constexpr std::array<const char*, 5> dashes{"", "7 3", "2 3", "9 3 2 3", "4 4"};  // so that no colour has to be told

double share(const Axis& axis, double value) {
  if (axis.logarithmic) return std::log(value / axis.low) / std::log(axis.high / axis.low);
  return (value - axis.low) / (axis.high - axis.low);
}

std::string text(double x, double y, const char* anchor, const std::string& words, const std::string& more = "") {
  return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\"{}>{}</text>\n", x, y, anchor, more, words);
}

}  // namespace

std::string svg(const Picture& picture) {
  const double w = wide - left - right, h = high - top - bottom;
  const auto at_x = [&](double x) { return left + w * share(picture.x, x); };
  const auto at_y = [&](double y) { return top + h * (1.0 - share(picture.y, y)); };
  std::string out = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" width=\"{0:.0f}\" height=\"{1:.0f}\" "
      "role=\"img\" font-family=\"sans-serif\" font-size=\"12\" fill=\"#222\">\n<title>{2}</title>\n"
      "<rect width=\"{0:.0f}\" height=\"{1:.0f}\" fill=\"#fff\"/>\n",
      wide, high, picture.says);
  for (const double tick : picture.x.ticks) {
    out += fmt::format("<path d=\"M{0:.1f} {1:.1f}V{2:.1f}\" stroke=\"#ddd\"/>\n", at_x(tick), top, top + h);
    out += text(at_x(tick), top + h + 16.0, "middle", fmt::format("{:g}", tick));
  }
  for (const double tick : picture.y.ticks) {
    out += fmt::format("<path d=\"M{0:.1f} {1:.1f}H{2:.1f}\" stroke=\"#ddd\"/>\n", left, at_y(tick), left + w);
    out += text(left - 6.0, at_y(tick) + 4.0, "end", fmt::format("{:g}", tick));
  }
  out += fmt::format("<path d=\"M{0:.1f} {1:.1f}V{2:.1f}H{3:.1f}\" fill=\"none\" stroke=\"#222\"/>\n", left, top,
                     top + h, left + w);
  out += text(left + 0.5 * w, high - 8.0, "middle", picture.x.label);
  out += text(0.0, 0.0, "middle", picture.y.label,
              fmt::format(" transform=\"translate(16 {:.1f}) rotate(-90)\"", top + 0.5 * h));
  std::vector<std::pair<double, std::size_t>> labels;  // height and curve
  for (std::size_t k = 0; k < picture.curves.size(); ++k) {
    const Curve& curve = picture.curves[k];
    std::string path;
    for (const auto& [x, y] : curve.points)
      path += fmt::format("{}{:.1f} {:.1f}", path.empty() ? "M" : "L", at_x(x),
                          at_y(std::clamp(y, picture.y.low, picture.y.high)));
    out += fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"2\" stroke-dasharray=\"{}\"/>\n",
                       path, colours.at(k), dashes.at(k));
    labels.emplace_back(at_y(std::clamp(curve.points.back().second, picture.y.low, picture.y.high)), k);
  }
  std::sort(labels.begin(), labels.end());
  double lowest = top - 14.0;
  for (const auto& [height, k] : labels) {
    lowest = std::max(height, lowest + 15.0);
    out += text(left + w + 6.0, lowest + 4.0, "start", picture.curves[k].label,
                fmt::format(" fill=\"{}\"", colours.at(k)));
  }
  return out + "</svg>\n";
}

}  // namespace airtally::pictures
