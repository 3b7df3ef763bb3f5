// A plot as JSON for the page's script.
#include <cmath>

#include "report/json_private.hpp"
#include "report/page/plot.hpp"

namespace airtally::report {
namespace {

using page::Axis;

Json numbers(const std::vector<double>& values) {
  Json all = Json::array();
  for (const double v : values) all.push_back(std::isfinite(v) ? Json(v) : Json(nullptr));
  return all;
}

Json axis(const Axis& a) {
  Json json{{"of", a.of == Axis::Of::vacuum ? "vacuum" : a.of == Axis::Of::place ? "place" : "plain"}};
  json["label"] = page::harmless(a.label);
  json["bottom"] = a.bottom;
  json["top"] = a.top;
  if (a.unit != nullptr) {
    json["unit"] = a.unit->symbol;
    json["si"] = units::to_si(1.0, *a.unit);
  }
  if (a.of == Axis::Of::place) {
    json["places"] = Json::array();
    for (const std::string& place : a.places) json["places"].push_back(page::harmless(place));
  }
  return json;
}

std::string_view stroke_word(page::Stroke stroke) {
  switch (stroke) {
    case page::Stroke::line:
      return "line";
    case page::Stroke::dashed:
      return "dashed";
    case page::Stroke::dotted:
      return "dotted";
    case page::Stroke::points:
      return "points";
    case page::Stroke::rings:
      return "rings";
  }
  return "line";
}

}  // namespace

std::string plot_json(const page::Plot& plot) {
  Json json{{"x", axis(plot.x)}, {"y", axis(plot.y)}};
  json["series"] = Json::array();
  for (const page::Series& s : plot.series) {
    Json one{{"name", page::harmless(s.name)}, {"stroke", stroke_word(s.stroke)}, {"colour", s.colour}};
    one["x"] = numbers(s.x);
    one["y"] = numbers(s.y);
    if (!s.low.empty()) {
      one["low"] = numbers(s.low);
      one["high"] = numbers(s.high);
    }
    json["series"].push_back(one);
  }
  json["marks"] = Json::array();
  for (const page::Mark& m : plot.marks) json["marks"].push_back({{"at", m.at}, {"text", page::harmless(m.text)}});
  json["levels"] = Json::array();
  for (const page::Level& l : plot.levels) json["levels"].push_back({{"at", l.at}, {"text", page::harmless(l.text)}});
  json["notes"] = Json::array();
  for (const page::Note& n : plot.notes) json["notes"].push_back({{"x", n.x}, {"y", n.y}, {"pa", n.pa}});
  return json.dump();
}

}  // namespace airtally::report
