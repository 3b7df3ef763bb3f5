#include "line/uncertain.hpp"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>

#include "line/cycle_order.hpp"
#include "line/quantities.hpp"

namespace airtally::line {
namespace {

using units::Quantity;
using units::Spread;

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
using Normal = boost::math::normal_distribution<double, InDouble>;

/// A curve whose points were drawn one by one, put in order: each point at least a trace beyond the one before.
void in_order(std::vector<CurvePoint>& points, bool falls) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double before = points[i - 1].vacuum.value;
    if (points[i].vacuum.value < before + 1.0) points[i].vacuum = Quantity(before + 1.0);
    if (falls && points[i].value.value > points[i - 1].value.value) points[i].value = points[i - 1].value;
  }
}

/// Whatever is drawn of the vacuum at which it was measured: there was some air left behind it.
void keep_physical(RatedLeak& leak, const gas::Site& site) {
  constexpr double deepest = 1.0 - 1e-9;
  leak.at = Quantity(std::min(leak.at.value, deepest * leak.ambient.value_or(site.pressure)));
}

void keep_physical(Element& element, const gas::Site& site) {
  if (element.pump) {
    in_order(element.pump->flow, true);
    in_order(element.pump->current, false);
  }
  for (Leak& leak : element.leaks) {
    if (auto* clearance = std::get_if<Clearance>(&leak))
      clearance->gap = Quantity(std::min(clearance->gap.value, 0.5 * clearance->diameter.value));
    if (auto* rated = std::get_if<RatedLeak>(&leak)) keep_physical(*rated, site);
  }
  auto* bore = std::get_if<Bore>(&element.restriction);
  if (bore && bore->roughness.value > 0.1 * bore->bore.value) bore->roughness = Quantity(0.1 * bore->bore.value);
  if (element.rim && bore && element.rim->value < bore->bore.value * (1.0 + 1e-6))
    element.rim = Quantity(bore->bore.value * (1.0 + 1e-6));
}

/// A machine's moments come in their order whatever they jitter: one that is drawn too early waits for those before it.
void keep_physical(Cycle& cycle, const std::vector<InOrder>& order) {
  for (const InOrder& one : order) {
    const double least = when(cycle, one.earlier)->value + one.apart;
    Quantity& later = *when(cycle, one.later);
    if (later.value < least) later = Quantity(least);
  }
}

}  // namespace

std::vector<Uncertain> uncertain(const Line& line) {
  Line copy = line;
  std::vector<Uncertain> all;
  each_quantity(copy, [&](const QuantityName& name, const Quantity& quantity, units::Dimension dimension) {
    if (!quantity.is_exact()) all.push_back({name.path(), quantity, dimension, name.element == nullptr});
  });
  return all;
}

double drawn(const Quantity& quantity, double u) {
  if (quantity.spread == Spread::exact) return quantity.value;
  if (quantity.spread == Spread::uniform) return quantity.low + u * (quantity.high - quantity.low);
  const Normal normal(quantity.value, quantity.standard_deviation());
  const double below = quantity.least > -1e300 ? boost::math::cdf(normal, quantity.least) : 0.0;
  const double above = quantity.most < 1e300 ? boost::math::cdf(normal, quantity.most) : 1.0;
  // The ends of the normal distribution are infinitely far; these lie 37 and 8 standard deviations out.
  const double p = std::clamp(below + u * (above - below), 1e-300, 1.0 - 1e-15);
  return std::clamp(boost::math::quantile(normal, p), quantity.least, quantity.most);
}

Sampler::Sampler(const Line& line) : sample_(line) {
  each_number(sample_, [&](Quantity& quantity) {
    places_.push_back({&quantity, quantity});
    any_ = any_ || !quantity.is_exact();
  });
}

const Line& Sampler::at(std::span<const double> u) {
  if (!any_) return sample_;
  std::size_t next = 0;
  // The exact ones, too: the last sample may have moved them out of another's way.
  for (const Place& place : places_)
    *place.here = place.stated.is_exact() ? place.stated : Quantity(drawn(place.stated, u[next++]));
  for (Element& element : sample_.elements) keep_physical(element, sample_.site);
  if (sample_.cycle) keep_physical(*sample_.cycle, order_of_pick(sample_));
  if (sample_.part && sample_.part->porosity) keep_physical(*sample_.part->porosity, sample_.site);
  return sample_;
}

Line sampled(const Line& line, std::span<const double> u) { return Sampler(line).at(u); }

}  // namespace airtally::line
