#include "report/page/units.hpp"

#include <algorithm>

namespace airtally::report::page {
namespace {

constexpr std::string_view between = "\xE2\x80\x96";  // a double bar, of which page.js knows

std::string without_bars(std::string_view text) {
  std::string out;
  for (std::size_t at = text.find(between); at != std::string_view::npos; at = text.find(between)) {
    out += text.substr(0, at);
    out += '|';
    text.remove_prefix(at + between.size());
  }
  out += text;
  return out;
}

}  // namespace

Units::Units(const Look& first) {
  Look plain;
  plain.vacuum = first.vacuum;
  plain.changes = first.changes;
  looks_.push_back(plain);
  for (const std::string_view symbol : {"kPa", "mbar", "inHg", "mmHg", "psi"}) {
    plain.vacuum = units::find_unit(symbol, units::Dimension::pressure);
    if (plain.vacuum != first.vacuum) looks_.push_back(plain);
  }
}

void Units::said(Markup& out, std::string_view tag, const std::function<std::string(const Look&)>& text,
                 Attributes attributes) const {
  std::string all, shown;
  for (const Look& look : looks_) {
    const std::string one = without_bars(text(look));
    if (&look == &looks_.front())
      shown = one;
    else
      all += between;
    all += one;
  }
  attributes.push_back({"data-u", all});
  out.element(tag, shown, attributes);
}

void Units::vacuum(Markup& out, std::string_view tag, double pa, double top, bool gain, Attributes attributes) const {
  const auto text = [&](const Look& look) {
    const Scale scale = vacuum_scale(look, top);
    return gain ? scale.gain(pa) : scale.number(pa);
  };
  said(out, tag, text, std::move(attributes));
}

void Units::name(Markup& out, std::string_view tag) const {
  said(out, tag, [](const Look& look) { return std::string(look.vacuum->symbol); });
}

}  // namespace airtally::report::page
