#include "report/describe.hpp"

#include <algorithm>

#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using units::Dimension;
using units::Quantity;

/// Digits enough for anything measured on a bench; zeros behind the point are dropped.
std::string plain(double si, Dimension dimension) {
  std::string text = dimension == Dimension::conductance   ? units::show_significant(si, "dm3/(s bar)", 4)
                     : dimension == Dimension::temperature ? units::show(si, "C", 1)
                                                           : units::show_fitting(si, dimension, 4);
  const std::size_t end = std::min(text.find(' '), text.size());
  const std::size_t point = text.find('.');
  if (point == std::string::npos || point > end || text.find('e') < end) return text;
  std::size_t keep = end;
  while (text[keep - 1] == '0') --keep;
  if (keep - 1 == point) --keep;
  return text.erase(keep, end - keep);
}

class Describer {
 public:
  explicit Describer(bool ascii) : ascii_(ascii) {}

  std::string operator()(const line::Element& e) {
    text_ = std::string(line::word(e.kind));
    std::replace(text_.begin(), text_.end(), '-', ' ');
    std::visit([this](const auto& r) { restriction(r); }, e.restriction);
    if (e.pump) pump(*e.pump);
    if (e.valve) valve(*e.valve);
    if (e.cracking) add("opens at " + said(*e.cracking, Dimension::pressure, ascii_));
    if (e.rim) add("rim " + said(*e.rim, Dimension::length, ascii_));
    if (e.spacing) add(said(*e.spacing, Dimension::length, ascii_) + " to the next");
    if (e.wall) add("wall " + said(*e.wall, Dimension::length, ascii_));
    if (e.volume.high > 0.0) add("volume " + said(e.volume, Dimension::volume, ascii_));
    if (e.gauge) gauge(*e.gauge);
    if (!e.joins.empty()) add("joins " + clean(e.joins));
    leaks(e);
    return text_;
  }

 private:
  void add(const std::string& phrase) { text_ += ", " + phrase; }

  void restriction(std::monostate) {}
  void restriction(const line::Bore& r) {
    add("bore " + said(r.bore, Dimension::length, ascii_));
    add(said(r.length, Dimension::length, ascii_) + " long");
    if (r.roughness.high > 0.0) add("roughness " + said(r.roughness, Dimension::length, ascii_));
    if (r.loss.high > 0.0) add("further loss factor " + said(r.loss, Dimension::number, ascii_));
  }
  void restriction(const line::Iso& r) {
    add("conductance " + said(r.conductance, Dimension::conductance, ascii_));
    add("critical ratio " + said(r.critical_ratio, Dimension::number, ascii_));
  }
  void restriction(const line::RatedDrop& r) {
    add("drops " + said(r.drop, Dimension::pressure, ascii_) + " at " + said(r.flow, Dimension::flow, ascii_));
  }

  void pump(const line::Pump& p) {
    if (!p.flow.empty()) {
      add(said(p.flow.front().value, Dimension::flow, ascii_) + " free");
      add(said(p.flow.back().vacuum, Dimension::pressure, ascii_) + " at most (curve of " +
          counted(p.flow.size(), "point") + ")");
    }
    if (p.speed.value != 1.0) add("at " + plain(p.speed.value, Dimension::number) + " of its speed");
    if (p.back_leak) add("lets back " + said(*p.back_leak, Dimension::conductance, ascii_) + " when it stands still");
    if (p.supply) add("fed with " + said(*p.supply, Dimension::pressure, ascii_));
    if (p.consumption) add("uses " + said(*p.consumption, Dimension::flow, ascii_));
    if (!p.current.empty())
      add("draws " + said(p.current.front().value, Dimension::current, ascii_) + " to " +
          said(p.current.back().value, Dimension::current, ascii_));
  }
  void valve(const line::Valve& v) {
    if (v.opens.high > 0.0) add("opens in " + said(v.opens, Dimension::time, ascii_));
    if (v.closes.high > 0.0) add("closes in " + said(v.closes, Dimension::time, ascii_));
    if (v.ramp.high > 0.0) add("takes " + said(v.ramp, Dimension::time, ascii_) + " to move");
    if (v.vent)
      add(v.vent->blow_off ? "vents through blow-off at " + said(*v.vent->blow_off, Dimension::pressure, ascii_)
                           : std::string("vents to the room"));
    if (v.state != line::ValveState::open) add(v.state == line::ValveState::closed ? "CLOSED" : "VENTING");
  }
  void gauge(const line::Gauge& g) {
    std::string phrase = "gauge";
    if (g.accuracy.value > 0.0)
      phrase += std::string(" good to ") + (ascii_ ? "+-" : "±") + plain(g.accuracy.value, Dimension::pressure);
    if (g.resolution.value > 0.0) phrase += " in steps of " + plain(g.resolution.value, Dimension::pressure);
    if (g.range) phrase += " down to " + said(*g.range, Dimension::pressure, ascii_);
    if (g.tube)
      phrase += " behind " + said(g.tube->length, Dimension::length, ascii_) + " of " +
                said(g.tube->bore, Dimension::length, ascii_) + " bore";
    if (g.volume.high > 0.0) phrase += " with " + said(g.volume, Dimension::volume, ascii_);
    add(phrase);
  }

  void leaks(const line::Element& e) {
    std::vector<std::string> all;
    all.reserve(e.leaks.size());
    for (const line::Leak& leak : e.leaks) all.push_back(std::visit([this](const auto& l) { return one(l); }, leak));
    if (!all.empty()) text_ += "; leaks: " + listed(all);
  }
  std::string one(const line::Hole& l) const { return "a hole of " + said(l.diameter, Dimension::length, ascii_); }
  std::string one(const line::Clearance& l) const {
    return "a clearance of " + said(l.gap, Dimension::length, ascii_) + " around " +
           said(l.diameter, Dimension::length, ascii_) + " over " + said(l.length, Dimension::length, ascii_) +
           (l.eccentricity.high > 0.0 ? " (eccentricity " + said(l.eccentricity, Dimension::number, ascii_) + ")"
                                      : std::string());
  }
  std::string one(const line::RatedLeak& l) const {
    return said(l.flow, Dimension::flow, ascii_) + " at " + said(l.at, Dimension::pressure, ascii_);
  }

  bool ascii_;
  std::string text_;
};

}  // namespace

std::string said(const Quantity& quantity, Dimension dimension, bool ascii) {
  if (quantity.is_exact()) return plain(quantity.value, dimension);
  if (quantity.spread == units::Spread::uniform)
    return plain(quantity.low, dimension) + " to " + plain(quantity.high, dimension);
  return plain(quantity.value, dimension) + (ascii ? " +- " : " ± ") +
         plain(0.5 * (quantity.high - quantity.low), dimension);
}

std::string described(const line::Element& element, bool ascii) { return Describer(ascii)(element); }

std::string described(const line::Part& part, bool ascii) {
  std::string text = clean(part.name.empty() ? "part" : part.name);
  if (part.mass.high > 0.0) text += ", " + said(part.mass, Dimension::mass, ascii);
  text +=
      part.gap.high > 0.0 ? ", " + said(part.gap, Dimension::length, ascii) + " above the rim" : ", flat on the rim";
  if (part.porosity)
    text += ", porous: " + said(part.porosity->flow, Dimension::flow, ascii) + " at " +
            said(part.porosity->at, Dimension::pressure, ascii);
  return text;
}

}  // namespace airtally::report
