#include "report/page/picture.hpp"

#include <algorithm>
#include <cmath>

#include "report/page/assets.hpp"
#include "report/width.hpp"

namespace airtally::report::page {

void open_svg(Markup& out, const std::string& id, const std::string& title, const std::string& text, double width,
              double height) {
  const std::string w = number(width), h = number(height);
  out.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                   {"class", width < wide ? "narrow" : "wide"},
                   {"role", "img"},
                   {"aria-labelledby", id + "-t " + id + "-d"},
                   {"viewBox", "0 0 " + w + ' ' + h},
                   {"width", w},
                   {"height", h}});
  out.element("title", title, {{"id", id + "-t"}}).element("desc", text, {{"id", id + "-d"}});
}

double text_width(std::string_view text, double size) { return 0.58 * size * static_cast<double>(report::width(text)); }

std::string fitted(std::string_view text, double width, double size) {
  const auto columns = static_cast<std::size_t>(std::max(3.0, std::floor(width / (0.58 * size) + 1e-6)));
  return cut(text, columns);
}

void label(Markup& out, double x, double y, std::string_view text, std::string_view anchor, std::string_view kind) {
  out.element("text", text,
              {{"x", number(x)}, {"y", number(y)}, {"text-anchor", std::string(anchor)}, {"class", std::string(kind)}});
}

std::string svg_file(const Picture& picture) {
  std::string svg = picture.on_wide;
  const std::size_t after = svg.find("</desc>") + std::string_view("</desc>").size();
  return svg.insert(after, "<style>" + std::string(picture_asset.text) + "</style>") + '\n';
}

}  // namespace airtally::report::page
