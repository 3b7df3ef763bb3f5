#include "report/describe.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using units::Dimension;
using units::Quantity;

/// Digits enough for anything measured on a bench; zeros behind the point are dropped.
std::string plain(double si, Dimension dimension, const Look& look) {
  // Where no unit was asked for, the one that suits the number.
  const bool asked = dimension == Dimension::pressure && look.vacuum != Look().vacuum;
  std::string text = asked                                 ? units::show_significant(si, *look.vacuum, 4)
                     : dimension == Dimension::conductance ? units::show_significant(si, "dm3/(s bar)", 4)
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
  explicit Describer(const Look& look) : look_(look) {}

  std::string operator()(const line::Element& e) {
    text_ = std::string(line::word(e.kind));
    std::replace(text_.begin(), text_.end(), '-', ' ');
    std::visit([this](const auto& r) { restriction(r); }, e.restriction);
    if (e.pump) pump(*e.pump);
    if (e.valve) valve(*e.valve);
    if (e.cracking) add("opens at " + said(*e.cracking, Dimension::pressure, look_));
    if (e.rim) add("rim " + said(*e.rim, Dimension::length, look_));
    if (e.spacing) add(said(*e.spacing, Dimension::length, look_) + " to the next");
    if (e.wall) add("wall " + said(*e.wall, Dimension::length, look_));
    if (e.volume.high > 0.0) add("volume " + said(e.volume, Dimension::volume, look_));
    if (e.gauge) gauge(*e.gauge);
    if (!e.joins.empty()) add("joins " + clean(e.joins));
    leaks(e);
    return text_;
  }

 private:
  /// What is fed or blown is no vacuum, and in no unit of it.
  std::string above_the_room(const Quantity& pressure) const {
    Look look = look_;
    look.vacuum = Look().vacuum;
    return said(pressure, Dimension::pressure, look);
  }

  void add(const std::string& phrase) { text_ += ", " + phrase; }

  void restriction(std::monostate) {}
  void restriction(const line::Bore& r) {
    add("bore " + said(r.bore, Dimension::length, look_));
    add(said(r.length, Dimension::length, look_) + " long");
    if (r.roughness.high > 0.0) add("roughness " + said(r.roughness, Dimension::length, look_));
    if (r.loss.high > 0.0) add("further loss factor " + said(r.loss, Dimension::number, look_));
  }
  void restriction(const line::Iso& r) {
    add("conductance " + said(r.conductance, Dimension::conductance, look_));
    add("critical ratio " + said(r.critical_ratio, Dimension::number, look_));
  }
  void restriction(const line::RatedDrop& r) {
    add("drops " + said(r.drop, Dimension::pressure, look_) + " at " + said(r.flow, Dimension::flow, look_));
  }

  void pump(const line::Pump& p) {
    if (!p.flow.empty()) {
      add(said(p.flow.front().value, Dimension::flow, look_) + " free");
      add(said(p.flow.back().vacuum, Dimension::pressure, look_) + " at most (curve of " +
          counted(p.flow.size(), "point") + ")");
    }
    if (p.speed.value != 1.0) add("at " + plain(p.speed.value, Dimension::number, look_) + " of its speed");
    if (p.back_leak) add("lets back " + said(*p.back_leak, Dimension::conductance, look_) + " when it stands still");
    if (p.supply) add("fed with " + above_the_room(*p.supply));
    if (p.consumption) add("uses " + said(*p.consumption, Dimension::flow, look_));
    if (!p.current.empty()) {
      // Its law never overshoots the points (laws/monotone_cubic.hpp): a hump in the middle has its top at one.
      const auto [least, most] =
          std::minmax_element(p.current.begin(), p.current.end(),
                              [](const auto& a, const auto& b) { return a.value.value < b.value.value; });
      add("draws " + said(least->value, Dimension::current, look_) + " to " +
          said(most->value, Dimension::current, look_));
    }
  }
  void valve(const line::Valve& v) {
    if (v.opens.high > 0.0) add("opens in " + said(v.opens, Dimension::time, look_));
    if (v.closes.high > 0.0) add("closes in " + said(v.closes, Dimension::time, look_));
    if (v.ramp.high > 0.0) add("takes " + said(v.ramp, Dimension::time, look_) + " to move");
    if (v.vent)
      add(v.vent->blow_off ? "vents through blow-off at " + above_the_room(*v.vent->blow_off)
                           : std::string("vents to the room"));
    if (v.state != line::ValveState::open) add(v.state == line::ValveState::closed ? "CLOSED" : "VENTING");
  }
  void gauge(const line::Gauge& g) {
    std::string phrase = "gauge";
    if (g.accuracy.value > 0.0)
      phrase += std::string(" good to ") + (look_.style.ascii ? "+-" : "±") +
                plain(g.accuracy.value, Dimension::pressure, look_);
    if (g.resolution.value > 0.0) phrase += " in steps of " + plain(g.resolution.value, Dimension::pressure, look_);
    if (g.range) phrase += " down to " + said(*g.range, Dimension::pressure, look_);
    if (g.tube)
      phrase += " behind " + said(g.tube->length, Dimension::length, look_) + " of " +
                said(g.tube->bore, Dimension::length, look_) + " bore";
    if (g.volume.high > 0.0) phrase += " with " + said(g.volume, Dimension::volume, look_);
    add(phrase);
  }

  void leaks(const line::Element& e) {
    std::vector<std::string> all;
    all.reserve(e.leaks.size());
    for (const line::Leak& leak : e.leaks) all.push_back(std::visit([this](const auto& l) { return one(l); }, leak));
    if (!all.empty()) text_ += "; leaks: " + listed(all);
  }
  std::string one(const line::Hole& l) const { return "a hole of " + said(l.diameter, Dimension::length, look_); }
  std::string one(const line::Clearance& l) const {
    return "a clearance of " + said(l.gap, Dimension::length, look_) + " around " +
           said(l.diameter, Dimension::length, look_) + " over " + said(l.length, Dimension::length, look_) +
           (l.eccentricity.high > 0.0 ? " (eccentricity " + said(l.eccentricity, Dimension::number, look_) + ")"
                                      : std::string());
  }
  std::string one(const line::RatedLeak& l) const {
    return said(l.flow, Dimension::flow, look_) + " at " + said(l.at, Dimension::pressure, look_);
  }

  const Look& look_;
  std::string text_;
};

}  // namespace

std::string said(const Quantity& quantity, Dimension dimension, const Look& look) {
  if (quantity.is_exact()) return plain(quantity.value, dimension, look);
  if (quantity.spread == units::Spread::uniform)
    return plain(quantity.low, dimension, look) + " to " + plain(quantity.high, dimension, look);
  return plain(quantity.value, dimension, look) + (look.style.ascii ? " +- " : " ± ") +
         plain(0.5 * (quantity.high - quantity.low), dimension, look);
}

std::string described(const line::Element& element, const Look& look) { return Describer(look)(element); }

std::string described(const line::Part& part, bool rim, const Look& look) {
  std::string text = clean(part.name.empty() ? "part" : part.name);
  if (part.mass.high > 0.0) text += ", " + said(part.mass, Dimension::mass, look);
  const char* mouth = rim ? "the rim" : "the mouth";
  text += part.gap.high > 0.0 ? ", " + said(part.gap, Dimension::length, look) + " above " + mouth
                              : std::string(", flat on ") + mouth;
  if (part.porosity)
    text += ", porous: " + said(part.porosity->flow, Dimension::flow, look) + " at " +
            said(part.porosity->at, Dimension::pressure, look);
  return text;
}

std::string described(const line::Sensor& sensor, const Look& look) {
  std::string text = "behind " + clean(sensor.at);
  if (sensor.tube)
    text += ", on a tube of " + said(sensor.tube->bore, Dimension::length, look) + " bore, " +
            said(sensor.tube->length, Dimension::length, look) + " long";
  if (sensor.ready_made)
    text += ", a switch: on at " + said(sensor.ready_made->on, Dimension::pressure, look) + ", hysteresis " +
            said(sensor.ready_made->hysteresis, Dimension::pressure, look);
  else
    text += ": " + said(sensor.span, Dimension::voltage, look) + " at " +
            said(sensor.range, Dimension::pressure, look) + ", front end " +
            std::string(line::word(sensor.amplifier.kind)) + ", ADC of " +
            said(sensor.adc.bits, Dimension::number, look) + " bits";
  if (sensor.accuracy.high > 0.0) text += ", accuracy " + said(sensor.accuracy, Dimension::pressure, look);
  if (sensor.noise.high > 0.0) text += ", noise " + said(sensor.noise, Dimension::pressure, look);
  return text;
}

}  // namespace airtally::report
