#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <stdexcept>
#include <string>
#include <utility>

#include "agreement/hunt_plant.hpp"
#include "agreement/hunt_proof.hpp"
#include "agreement/kinsol_bench.hpp"
#include "hunt/beliefs/way.hpp"
#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"

namespace airtally::agreement {
namespace {

using hunt::Setting;
using hunt::What;

bool among(const std::vector<std::size_t>& list, std::size_t i) {
  return std::find(list.begin(), list.end(), i) != list.end();
}

void judge(const Plant& plant, const hunt::Hunt& found, Planted& result) {
  ++result.cases;
  const hunt::Finding& first = found.elements.front();
  const bool right = among(plant.culprits, first.element), twin = among(plant.twins, first.element);
  result.first += right;
  result.expected_first += first.worst_probability;
  result.told_apart += plant.twins.empty();
  result.first_told_apart += plant.twins.empty() && right;
  result.first_or_twin += right || twin;
  bool alike = false;
  for (const hunt::LookAlikes& group : found.look_alikes)
    for (const std::size_t culprit : plant.culprits)
      alike = alike || (among(group.elements, first.element) && among(group.elements, culprit));
  result.alike += !right && alike;
  const bool sure = hunt::verdict(found) == hunt::Verdict::sure;
  result.sure += sure;
  result.sure_right += sure && right;
  result.sure_or_twin += sure && (right || twin);
  const hunt::Unknown& planted = plant.suspects.unknowns[plant.unknown];
  const double value = plant.values[plant.unknown];
  double low = 0.0, high = 0.0, truth = value;
  for (const hunt::Finding& f : found.elements) {
    if (f.element != planted.element) continue;
    if (planted.what == What::leak) {
      truth = value * plant.suspects.leak_at_one[planted.element];
      low = f.leak.low;
      high = f.leak.high;
    } else if (planted.what == What::seal) {
      for (const hunt::Nuisance& n : found.others)
        if (n.unknown.what == What::seal && n.unknown.element == f.element) low = n.value.low, high = n.value.high;
    } else if (planted.what == What::bore && f.bore) {
      truth = value * hunt::long_bore(plant.line.elements[f.element])->bore.value;
      low = f.bore->low;
      high = f.bore->high;
    } else if (f.open_fraction) {
      truth = *hunt::way_through(plant.suspects, f.element, plant.values);
      low = f.open_fraction->low;
      high = f.open_fraction->high;
    }
    ++result.sizes;
    result.inside += truth >= low && truth <= high;
    if (!right || truth < low || truth > high) {
      double chance = 0.0;
      for (const hunt::Finding& g : found.elements)
        if (among(plant.culprits, g.element)) chance += g.worst_probability;
      result.misses.push_back(fmt::format(
          "{}; {}: {} {} ({:.2f}), culprit ({:.2f}){}{}; size {:.3g} in {:.3g}..{:.3g}; chi-square chance {:.2g}, "
          "{:.0f} effective, r-hat {:.2f}, agreement {:.2f}",
          right  ? "size"
          : twin ? "TWIN"
                 : "MISS",
          plant.name, sure ? "sure of" : "first", plant.line.elements[first.element].name, first.worst_probability,
          chance, alike ? ", alike" : "", plant.twins.empty() ? "" : fmt::format(", {} twins", plant.twins.size()),
          truth, low, high, found.quality.chance, found.effective, found.r_hat, found.agreement));
    }
  }
}

}  // namespace

Planted plant(const Planting& how, const std::function<void(const Planted&)>& seen) {
  hunt::Bench bench;
  if (how.plug_gauge) bench.plug_gauge = hunt::Meter{};
  Planted result;
  double clock = 0.0;
  const auto skipped = [&](int c) {
    return !how.lines.empty() && (' ' + how.lines + ' ').find(' ' + line_of(c) + ' ') == std::string::npos;
  };
  for (int c = how.first; result.cases < how.cases && c < how.first + 20 * how.cases; ++c) {
    if (skipped(c)) continue;
    try {
      const std::optional<Plant> plant = make_plant(c, how.seed, bench, how.gauge_at_source);
      if (!plant) continue;
      KinsolBench kinsol(plant->suspects, bench, plant->values);
      study::Random random(how.seed * 104729ULL + static_cast<std::uint64_t>(c));
      hunt::Readings readings{{}, bench, {}};
      hunt::HuntOptions options;
      options.tips = plant->tips;
      options.sampling.seed = static_cast<std::uint64_t>(c) + 1;
      options.next = how.by_advice ? 8 : 0;
      const auto ask = [&] {
        const std::clock_t start = std::clock();
        hunt::Hunt found = hunt::hunt(plant->line, readings, options);
        clock += static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
        return found;
      };
      if (!how.by_advice) {
        for (const Setting& setting : all_settings(plant->line, plate))
          for (const auto& [instrument, at] : instruments(plant->line, setting))
            readings.list.push_back(kinsol.read(setting, instrument, at, random));
        judge(*plant, ask(), result);
        if (seen) seen(result);
        continue;
      }
      hunt::Hunt found = ask();
      int tests = 0, joints = 0;
      while (readings.list.size() < 16 && hunt::verdict(found) != hunt::Verdict::sure && hunt::further_test(found)) {
        const hunt::NextTest& test = found.next.front();
        for (const hunt::Dial& dial : test.dials)
          readings.list.push_back(kinsol.read(test.setting, dial.instrument, dial.at, random));
        tests += !test.standing;
        joints += static_cast<int>(test.effort);
        found = ask();
      }
      judge(*plant, found, result);
      if (hunt::verdict(found) == hunt::Verdict::sure) {
        result.tests.push_back(tests);
        result.joints.push_back(joints);
        result.readings.push_back(static_cast<int>(readings.list.size()));
      }
      if (seen) seen(result);
    } catch (const std::runtime_error& error) {
      result.misses.push_back(fmt::format("case {}: {}", c, error.what()));
    }
  }
  result.seconds = clock / std::max(result.cases, 1);
  return result;
}

std::string text(const Planted& p) {
  const auto share = [](int part, int whole) { return 100.0 * part / std::max(whole, 1); };
  std::string out;
  out += fmt::format(
      "{} cases: culprit first in {} ({:.1f} %; by their own word {:.1f} %), not first but called a look-alike of the "
      "first in {} ({:.1f} %)\n"
      "of {} that no other element could stand in for, first in {} ({:.1f} %); first is the culprit or a twin in "
      "{:.1f} %\n"
      "verdicts at 95 %: {}, right {} ({:.1f} %), right or a twin {:.1f} %; planted size within the stated 90 % in {} "
      "of {} ({:.1f} %)\n"
      "{:.2f} s of processor time each\n",
      p.cases, p.first, share(p.first, p.cases), 100.0 * p.expected_first / std::max(p.cases, 1), p.alike,
      share(p.alike, p.cases), p.told_apart, p.first_told_apart, share(p.first_told_apart, p.told_apart),
      share(p.first_or_twin, p.cases), p.sure, p.sure_right, share(p.sure_right, p.sure), share(p.sure_or_twin, p.sure),
      p.inside, p.sizes, share(p.inside, p.sizes), p.seconds);
  for (const auto& [what, counts] :
       {std::pair("tests", p.tests), std::pair("joints undone", p.joints), std::pair("readings", p.readings)}) {
    if (counts.empty()) continue;
    std::vector<int> in_order = counts;
    std::sort(in_order.begin(), in_order.end());
    const auto at = [&](std::size_t tenths, std::size_t of) {
      const std::size_t k = of * tenths / 10;
      return k < in_order.size() ? std::to_string(in_order[k]) : std::string("no verdict");
    };
    const auto all = static_cast<std::size_t>(p.cases);
    out += fmt::format("{} until the verdict: median {}, nine in ten within {}; of all cases: {}, {}\n", what,
                       at(5, in_order.size()), at(9, in_order.size()), at(5, all), at(9, all));
  }
  return out;
}

}  // namespace airtally::agreement
