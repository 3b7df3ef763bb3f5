#include "agreement/own_line.hpp"

#include <cmath>
#include <map>
#include <memory>
#include <numeric>
#include <stdexcept>

#include "gas/air.hpp"
#include "laws/conductance.hpp"
#include "laws/duct.hpp"
#include "laws/passage.hpp"
#include "laws/pump_curve.hpp"
#include "laws/rated.hpp"
#include "laws/slot.hpp"

namespace airtally::agreement {
namespace {

using line::Element;
using line::Kind;
constexpr int nobody = -1;

/// The laws of core behind the same face.
struct CoreLaws {
  gas::Air air;
  gas::Site site;

  template <typename Law, typename Call>
  own::Flow wrap(Law law, Call call) const {
    return [law, call, a = air](double p1, double p2) { return call(law, laws::Ends(p1, p2), a).m; };
  }
  own::Flow duct(double d, double l, double eps, double kf, double kb) const {
    return wrap(laws::Duct{d, l, eps, kf, kb}, [](auto& w, auto e, auto& a) { return laws::duct(w, e, a, 0.0); });
  }
  own::Flow passage(double d, double l, double eps, double k) const {
    return wrap(laws::Passage{d, l, eps, k}, [](auto& w, auto e, auto& a) { return laws::passage(w, e, a, 0.0); });
  }
  own::Flow conductance(const laws::Conductance& c) const {
    return wrap(c, [](auto& w, auto e, auto& a) { return laws::conductance(w, e, a); });
  }
  own::Flow iso(double c, double b) const { return conductance({c, b}); }
  own::Flow hole(double d, double cd) const { return conductance(laws::hole(d, cd)); }
  own::Flow clearance(double h, double d, double l, double e) const {
    return wrap(laws::Clearance{h, d, l, e}, [](auto& w, auto n, auto& a) { return laws::clearance(w, n, a); });
  }
  own::Flow face_gap(double h, double ri, double ro) const {
    return wrap(laws::FaceGap{h, ri, ro}, [](auto& w, auto e, auto& a) { return laws::face_gap(w, e, a); });
  }
  own::Flow rated(double m, double p1, double p2) const {
    return wrap(laws::rated_from(m, p1, p2), [](auto& w, auto e, auto&) { return laws::rated(w, e); });
  }
  own::Flow rated_orifice(double m, double p1, double p2) const {
    return conductance(laws::conductance_from(m, p1, p2));
  }
  own::Flow one_way(double c, double b, double cracking) const {
    const own::Flow open = iso(c, b);
    return [=](double p1, double p2) { return p1 - cracking > p2 ? open(p1 - cracking, p2) : 0.0; };
  }
  own::Pull pump(const std::vector<std::pair<double, double>>& points, double speed) const {
    std::vector<laws::CurvePoint> curve;
    for (const auto& [vacuum, flow] : points) curve.push_back({vacuum, flow});
    return [c = laws::PumpCurve(curve, site, speed)](double p) { return c.at(p).m; };
  }
};

struct OwnLaws {
  own::Air air;
  gas::Site site;

  own::Flow duct(double d, double l, double eps, double kf, double kb) const {
    return own::duct(d, l, eps, kf, kb, air);
  }
  own::Flow passage(double d, double l, double eps, double k) const { return own::passage(d, l, eps, k, air); }
  own::Flow iso(double c, double b) const { return own::iso(c, b, air); }
  own::Flow hole(double d, double cd) const { return own::hole(d, cd, air); }
  own::Flow clearance(double h, double d, double l, double e) const { return own::clearance(h, d, l, e, air); }
  own::Flow face_gap(double h, double ri, double ro) const { return own::face_gap(h, ri, ro, air); }
  own::Flow rated(double m, double p1, double p2) const { return own::rated(m, p1, p2); }
  own::Flow rated_orifice(double m, double p1, double p2) const { return own::rated_orifice(m, p1, p2, air); }
  own::Flow one_way(double c, double b, double cracking) const { return own::one_way(c, b, cracking, air); }
  own::Pull pump(const std::vector<std::pair<double, double>>& points, double speed) const {
    return own::pump(points, speed, site.pressure, site.temperature);
  }
};

template <typename Laws>
class Maker {
 public:
  Maker(OwnLine& made, const line::Line& line, std::span<const solve::TipState> tips, const Laws& laws)
      : made_(made), line_(line), tips_(tips), laws_(laws) {}

  void make() {
    const auto& all = line_.elements;
    const int n = static_cast<int>(all.size());
    std::map<std::string, int> index;
    for (int i = 0; i < n; ++i) index[all[i].name] = i;
    before_.assign(n, nobody);
    followers_.assign(n, {});
    root_.resize(n);
    std::iota(root_.begin(), root_.end(), 0);
    for (int i = 0; i < n; ++i) {
      if (!all[i].pump) before_[i] = all[i].after.empty() ? i - 1 : index.at(all[i].after);
      if (before_[i] != nobody) followers_[before_[i]].push_back(i);
      if (before_[i] != nobody && all[i].restriction.index() == 0) merge(i, before_[i]);
      if (!all[i].joins.empty()) merge(i, index.at(all[i].joins));
    }
    std::map<int, int> number;
    for (int i = 0; i < n; ++i)
      made_.place.push_back(number.emplace(root(i), static_cast<int>(number.size())).first->second);
    made_.volume.assign(number.size(), 0.0);
    std::size_t nozzle = 0;
    for (int i = 0; i < n; ++i) {
      const bool tip = all[i].kind == Kind::nozzle;
      add(i, tip ? std::optional(tips_[nozzle++]) : std::nullopt);
    }
  }

 private:
  int root(int i) const { return root_[i] == i ? i : root(root_[i]); }
  void merge(int i, int j) { root_[root(i)] = root(j); }
  int sharing(int i) const {
    int count = 0;
    for (std::size_t k = 0; k < root_.size(); ++k) count += made_.place[k] == made_.place[i] ? 1 : 0;
    return count;
  }
  void way(int from, int to, own::Flow flow, double above = 0.0) {
    made_.ways.push_back({from, to, line_.site.pressure + above, std::move(flow)});
  }

  own::Flow leak(const line::Leak& leak) const {
    const double ambient = line_.site.pressure;
    if (const auto* hole = std::get_if<line::Hole>(&leak))
      return laws_.hole(hole->diameter.value, hole->discharge.value);
    if (const auto* gap = std::get_if<line::Clearance>(&leak))
      return laws_.clearance(gap->gap.value, gap->diameter.value, gap->length.value, gap->eccentricity.value);
    const auto& known = std::get<line::RatedLeak>(leak);
    return known.orifice ? laws_.rated_orifice(known.flow.value, ambient, ambient - known.at.value)
                         : laws_.rated(known.flow.value, ambient, ambient - known.at.value);
  }

  /// The bore that goes on from the tip-side end of `i` when exactly one does and nothing else is there.
  const line::Bore* next_bore(int i) const {
    if (i == nobody || followers_[i].size() != 1 || line_.elements[i].volume.value > 0.0 || sharing(i) != 1)
      return nullptr;
    return std::get_if<line::Bore>(&line_.elements[followers_[i].front()].restriction);
  }
  /// Losses {entering, leaving} of an end where this bore meets that other one, or a wide place.
  static std::pair<double, double> end_loss(double own, const line::Bore* other) {
    if (other == nullptr) return {0.5, 1.0};
    const double ratio = std::pow(own / other->bore.value, 2.0);  // of the areas
    if (ratio >= 1.0) return {0.0, 0.0};                          // the narrower one takes the whole loss
    return {0.5 * (1.0 - ratio), std::pow(1.0 - ratio, 2.0)};
  }

  void add(int i, std::optional<solve::TipState> tip) {
    const Element& e = line_.elements[i];
    const int here = made_.place[i], pump = before_[i] == nobody ? OwnLine::outside : made_.place[before_[i]];
    const bool open = tip == solve::TipState::open;
    made_.volume[here] += e.volume.value;
    if (e.pump) {
      std::vector<std::pair<double, double>> points;
      for (const line::CurvePoint& p : e.pump->flow) points.emplace_back(p.vacuum.value, p.value.value);
      made_.sources.push_back({here, laws_.pump(points, e.pump->speed.value)});
    }
    if (const auto* bore = std::get_if<line::Bore>(&e.restriction)) {
      const double d = bore->bore.value, half = 0.125 * 3.14159265358979323846 * d * d * bore->length.value;
      made_.volume[here] += half;
      made_.volume[pump] += half;
      if (tip) {
        way(open ? OwnLine::outside : here, pump,
            laws_.passage(d, bore->length.value, bore->roughness.value, 0.5 + bore->loss.value));
      } else {
        const auto near = end_loss(d, next_bore(i));
        const auto* previous =
            next_bore(before_[i]) == bore ? std::get_if<line::Bore>(&line_.elements[before_[i]].restriction) : nullptr;
        const auto far = end_loss(d, previous);
        way(here, pump,
            laws_.duct(d, bore->length.value, bore->roughness.value, bore->loss.value + near.first + far.second,
                       bore->loss.value + near.second + far.first));
      }
    } else if (const auto* iso = std::get_if<line::Iso>(&e.restriction)) {
      const double c = iso->conductance.value, b = iso->critical_ratio.value;
      if (e.kind == Kind::check_valve) {
        way(here, pump, laws_.one_way(c, b, e.cracking ? e.cracking->value : 0.0));
      } else if (!e.valve || e.valve->state == line::ValveState::open) {
        way(here, pump, laws_.iso(c, b));
      }
      if (e.valve && e.valve->state == line::ValveState::vent && e.valve->vent)
        way(OwnLine::outside, here,
            laws_.iso(e.valve->vent->path.conductance.value, e.valve->vent->path.critical_ratio.value),
            e.valve->vent->blow_off ? e.valve->vent->blow_off->value : 0.0);
    } else if (const auto* drop = std::get_if<line::RatedDrop>(&e.restriction)) {
      way(here, pump, laws_.rated(drop->flow.value, 101325.0, 101325.0 - drop->drop.value));
    }
    if (!open)
      for (const line::Leak& l : e.leaks) way(OwnLine::outside, here, leak(l));
    if (tip == solve::TipState::part) {
      const auto* bore = std::get_if<line::Bore>(&e.restriction);
      if (line_.part->gap.value > 0.0 && bore && e.rim)
        way(OwnLine::outside, here, laws_.face_gap(line_.part->gap.value, 0.5 * bore->bore.value, 0.5 * e.rim->value));
      if (line_.part->porosity) way(OwnLine::outside, here, leak(*line_.part->porosity));
    }
  }

  OwnLine& made_;
  const line::Line& line_;
  std::span<const solve::TipState> tips_;
  const Laws& laws_;
  std::vector<int> before_, root_;
  std::vector<std::vector<int>> followers_;
};

}  // namespace

OwnLine::OwnLine(const line::Line& line, std::span<const solve::TipState> tips, LawsOf laws)
    : ambient(line.site.pressure), rt(287.05 * line.site.temperature) {
  if (laws == LawsOf::core) {
    const CoreLaws core{gas::air_at(line.site.temperature), line.site};
    Maker<CoreLaws>(*this, line, tips, core).make();
  } else {
    const OwnLaws ours{own::Air(line.site.temperature), line.site};
    Maker<OwnLaws>(*this, line, tips, ours).make();
  }
}

void OwnLine::net(std::span<const double> p, std::span<double> net) const {
  for (double& value : net) value = 0.0;
  for (const Way& way : ways) {
    if (way.from == way.to) continue;
    const double m =
        way.flow(way.from == outside ? way.pressure : p[way.from], way.to == outside ? way.pressure : p[way.to]);
    if (way.from != outside) net[way.from] -= m;
    if (way.to != outside) net[way.to] += m;
  }
  for (const Source& source : sources) net[source.place] -= source.pull(p[source.place]);
}

}  // namespace airtally::agreement
