#pragma once
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/answer.hpp"
#include "study/rank.hpp"
#include "study/rise.hpp"
#include "study/strip.hpp"

/// A small made-up line with made-up answers: what the report does with numbers does not depend on where they are from.
namespace airtally::sample {

inline line::Element element(const std::string& name, line::Kind kind) {
  line::Element e;
  e.name = name;
  e.kind = kind;
  return e;
}

/// pump - hose (leaks) - tee (gauge) - nozzle, with a part.
inline line::Line line(const std::string& hose = "hose") {
  line::Line l;
  l.title = "Sample";
  l.file = "sample.toml";
  l.elements = {element("pump", line::Kind::pump), element(hose, line::Kind::tube), element("tee", line::Kind::tee),
                element("nozzle", line::Kind::nozzle)};
  l.elements[0].pump.emplace();
  l.elements[0].pump->flow = {{0.0, 1e-4}, {70e3, 0.0}};
  l.elements[0].pump->current = {{0.0, 0.2}, {70e3, 0.4}};
  l.elements[1].restriction = line::Bore{4e-3, 0.8};
  l.elements[1].leaks = {line::Hole{80e-6}};
  l.elements[1].assumed = {"roughness not given: smooth"};
  l.elements[2].gauge.emplace();
  l.elements[3].restriction = line::Bore{1e-3, 6e-3};
  l.part.emplace();
  l.part->name = "cap jewel";
  return l;
}

inline solve::SteadyAnswer steady() {
  solve::SteadyAnswer a;
  a.ambient = 101325.0;
  a.elements = {{0, 51325.0, 50e3, 3e-5, 0.0, 0.0},
                {1, 51825.0, 49.5e3, 3e-5, 500.0, 2e-5},
                {2, 51825.0, 49.5e3, 1e-5, 0.0, 0.0},
                {3, 60000.1, 41324.9, 1e-5, 8175.1, 0.0}};
  a.tips = {{3, solve::TipState::part, 49.5e3, 41324.9, 1e-5}};
  a.sources = {{0, 50e3, 3e-5}};
  a.report.worst_balance = 1e-12;
  return a;
}

inline study::Rise rise() {
  study::Rise r;
  r.places = {3};
  r.tips = {{3, 0.0421, 41324.9}};
  r.settle = 0.0421;
  r.final_vacuum = 41324.9;
  for (int k = 0; k <= 20; ++k) r.samples.push_back({0.005 * k, {41324.9 * k / 20.0}});
  return r;
}

inline study::Ranking rank() {
  study::Ranking r;
  r.tip_element = 3;
  r.tip = solve::TipState::part;
  r.elements = {{1, 2e-5, 1.0, 15200.0, 300.0, 18400.0, 0.0, 0.010, 0.012},
                {3, 0.0, 0.0, 0.0, 9100.0, 10275.1, 0.0, 0.001, 0.002}};
  r.tip_vacuum = 41324.9;
  r.ideal_vacuum = 70e3;
  r.total_loss = 28675.1;
  r.settle = 0.0421;
  r.players = 3;
  return r;
}

inline study::Strip strip() {
  study::Strip s;
  using Readings = std::vector<study::StripReading>;
  const Readings pump{{0, 70e3, 0.4}}, hose{{0, 55e3, 0.36}}, tee{{2, 55e3, std::nullopt}, {0, 55e3, 0.36}},
      nozzle{{2, 54e3, std::nullopt}, {0, 54e3, 0.35}};
  s.steps = {{0, 0, pump, {}, 0.0}, {1, 0, hose, pump, 15e3}, {2, 1, tee, hose, 0.0}, {3, 2, nozzle, tee, 1e3}};
  s.culprit = 1;
  s.judge = 2;
  s.steps[3].judge = 2;
  return s;
}

}  // namespace airtally::sample
