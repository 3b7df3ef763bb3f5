#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <optional>
#include <stdexcept>

#include "agreement/hunt_proof.hpp"
#include "agreement/kinsol_bench.hpp"
#include "hunt/hunt.hpp"
#include "read/line_file.hpp"
#include "solve/answer.hpp"

namespace airtally::agreement {
namespace {

using hunt::Setting;
using hunt::What;

constexpr const char* names[] = {"jewel-setter", "jewel-setter-twist", "ejector-head", "two-spindle-sorter",
                                 "seed-tray"};
constexpr double plate = 0.8e-3;

/// What is wrong with a line.
struct Plant {
  line::Line line;
  hunt::Suspects suspects;
  std::vector<double> values;
  std::vector<std::size_t> culprits;  ///< one or two elements
  std::size_t unknown = 0;            ///< that was planted first
  std::vector<solve::TipState> tips;  ///< in which the tips' loss counts
  std::string name;
};

/// What mending each element would gain the tips, from KINSOL alone.
std::vector<double> gains(const Plant& plant, const hunt::Bench& bench) {
  const Setting whole{{}, 0.0, plant.tips};
  const double now = KinsolBench(plant.suspects, bench, plant.values).tip_vacuum(whole);
  std::vector<double> gain(plant.line.elements.size(), 0.0);
  for (std::size_t i = 0; i < gain.size(); ++i) {
    std::vector<double> mended = plant.values;
    bool any = false;
    for (std::size_t k = 0; k < mended.size(); ++k) {
      const hunt::Unknown& u = plant.suspects.unknowns[k];
      if (u.element != i || u.what == What::offset || u.what == What::seal) continue;
      mended[k] = u.what == What::leak ? 0.0 : std::max(mended[k], 1.0);
      any = true;
    }
    if (any) gain[i] = KinsolBench(plant.suspects, bench, mended).tip_vacuum(whole) - now;
  }
  return gain;
}

/// Sets unknown k so that the tips lose `share` of what they had with it healthy; false when it can't cost as much.
bool plant_one(Plant& plant, const hunt::Bench& bench, std::size_t k, double share) {
  const Setting whole{{}, 0.0, plant.tips};
  const bool leak = plant.suspects.unknowns[k].what == What::leak;
  const double healthy = plant.values[k];
  const double had = KinsolBench(plant.suspects, bench, plant.values).tip_vacuum(whole);
  const auto lost = [&](double log_size) {
    plant.values[k] = leak ? std::exp(log_size) / plant.suspects.leak_at_one[plant.suspects.unknowns[k].element]
                           : std::exp(-log_size);
    return 1.0 - KinsolBench(plant.suspects, bench, plant.values).tip_vacuum(whole) / had;
  };
  double low = leak ? std::log(1e-9) : 0.0, high = leak ? std::log(1e-3) : std::log(60.0);
  if (lost(high) < share) {
    plant.values[k] = healthy;
    return false;
  }
  for (int step = 0; step < 18; ++step) {
    const double middle = 0.5 * (low + high);
    (lost(middle) < share ? low : high) = middle;
  }
  lost(high);
  return true;
}

/// Case number `c`: goes round all lines and all their elements, leaks and, one in four, blockages, one in eight with a
/// second culprit. None where such a fault can't cost the tip as much or isn't the worst that is wrong.
std::optional<Plant> make(int c, std::uint64_t seed, const hunt::Bench& bench) {
  study::Random random(seed * 7919ULL + static_cast<std::uint64_t>(c));
  const std::string name = names[c % 5];
  Plant plant;
  plant.line = read::read_line(std::string(AIRTALLY_LINES) + "/" + name + ".toml");
  plant.suspects = hunt::suspects(plant.line, bench);
  const bool blockage = (c / 5) % 4 == 3, two = (c / 5) % 8 == 5;
  plant.tips = blockage ? solve::all_tips(plant.line, solve::TipState::open) : solve::usual_tips(plant.line);
  std::vector<double> z(plant.suspects.unknowns.size(), 0.0);
  std::vector<std::size_t> candidates;
  for (std::size_t k = 0; k < z.size(); ++k) {
    const What what = plant.suspects.unknowns[k].what;
    if (what == (blockage ? What::blockage : What::leak)) candidates.push_back(k);
    // The rest is as common: not all alike, and the instruments as far off as they may be.
    z[k] = normal(random) * (what == What::offset || what == What::seal ? 1.0 : 0.5);
  }
  plant.values = plant.suspects.values(z);
  plant.unknown = candidates[static_cast<std::size_t>(c / 5) % candidates.size()];
  const std::vector<double> healthy = plant.values;
  for (int attempt = 0; attempt < 6; ++attempt) {
    plant.values = healthy;
    plant.culprits = {plant.suspects.unknowns[plant.unknown].element};
    const double share = 0.05 * std::pow(12.0, random.uniform());
    if (!plant_one(plant, bench, plant.unknown, share)) continue;
    if (two) {
      const std::size_t other = candidates[random.below(candidates.size())];
      if (other == plant.unknown || !plant_one(plant, bench, other, 0.05 * std::pow(12.0, random.uniform()))) continue;
      plant.culprits.push_back(plant.suspects.unknowns[other].element);
    }
    const std::vector<double> gain = gains(plant, bench);
    const auto worst = static_cast<std::size_t>(std::max_element(gain.begin(), gain.end()) - gain.begin());
    if (std::find(plant.culprits.begin(), plant.culprits.end(), worst) == plant.culprits.end()) continue;
    plant.name = fmt::format("{}: {} {}{} costing {:.0f} %", name, blockage ? "blocked" : "leak at",
                             plant.line.elements[plant.culprits[0]].name,
                             two ? " and " + plant.line.elements[plant.culprits[1]].name : "", 100.0 * share);
    return plant;
  }
  return std::nullopt;
}

bool among(const std::vector<std::size_t>& list, std::size_t i) {
  return std::find(list.begin(), list.end(), i) != list.end();
}

void judge(const Plant& plant, const hunt::Hunt& found, Planted& result) {
  ++result.cases;
  const hunt::Finding& first = found.elements.front();
  const bool right = among(plant.culprits, first.element);
  result.first += right;
  bool alike = false;
  for (const hunt::LookAlikes& group : found.look_alikes)
    for (const std::size_t culprit : plant.culprits)
      alike = alike || (among(group.elements, first.element) && among(group.elements, culprit));
  result.alike += !right && alike;
  if (first.worst_probability >= hunt::sure && !first.only_prior) {
    ++result.sure;
    result.sure_right += right;
  }
  const hunt::Unknown& planted = plant.suspects.unknowns[plant.unknown];
  const double value = plant.values[plant.unknown];
  double low = 0.0, high = 0.0, truth = value;
  for (const hunt::Finding& f : found.elements) {
    if (f.element != planted.element) continue;
    if (planted.what == What::leak) {
      truth = value * plant.suspects.leak_at_one[planted.element];
      low = f.leak.low;
      high = f.leak.high;
    } else if (f.open_fraction) {
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
          "{}; {}: first {} ({:.2f}), culprit ({:.2f}){}; size {:.3g} in {:.3g}..{:.3g}; chi-square chance {:.2g}, "
          "{:.0f} "
          "effective, r-hat {:.2f}",
          right ? "size" : "MISS", plant.name, plant.line.elements[first.element].name, first.worst_probability, chance,
          alike ? ", alike" : "", truth, low, high, found.quality.chance, found.effective, found.r_hat));
    }
  }
}

}  // namespace

Planted plant(int cases, std::uint64_t seed, bool by_advice, int from) {
  const hunt::Bench bench;
  Planted result;
  double clock = 0.0;
  for (int c = from; result.cases < cases && c < from + 4 * cases; ++c) {
    try {
      const std::optional<Plant> plant = make(c, seed, bench);
      if (!plant) continue;
      KinsolBench kinsol(plant->suspects, bench, plant->values);
      study::Random random(seed * 104729ULL + static_cast<std::uint64_t>(c));
      hunt::Readings readings;
      hunt::HuntOptions options;
      options.tips = plant->tips;
      options.sampling.seed = static_cast<std::uint64_t>(c) + 1;
      options.next = by_advice ? 8 : 0;
      const auto ask = [&] {
        const std::clock_t start = std::clock();
        hunt::Hunt found = hunt::hunt(plant->line, readings, options);
        clock += static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
        return found;
      };
      if (!by_advice) {
        for (const Setting& setting : all_settings(plant->line, plate))
          for (const auto& [instrument, at] : instruments(plant->line, setting))
            readings.list.push_back(kinsol.read(setting, instrument, at, random));
        judge(*plant, ask(), result);
        continue;
      }
      hunt::Hunt found = ask();
      while (readings.list.size() < 12) {
        const hunt::Finding& first = found.elements.front();
        if (!found.prior_only && !first.only_prior && first.worst_probability >= hunt::sure) break;
        if (found.next.empty() || found.next.front().information.bits < 0.02) break;
        const hunt::NextTest& test = found.next.front();
        readings.list.push_back(kinsol.read(test.setting, test.instrument, test.at, random));
        found = ask();
      }
      judge(*plant, found, result);
      if (found.elements.front().worst_probability >= hunt::sure)
        result.readings.push_back(static_cast<int>(readings.list.size()));
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
  for (const std::string& miss : p.misses) out += miss + '\n';
  std::vector<int> readings = p.readings;
  std::sort(readings.begin(), readings.end());
  out += fmt::format(
      "{} cases: culprit first in {} ({:.1f} %), not first but called a look-alike of the first in {} ({:.1f} %)\n"
      "verdicts at 95 %: {}, right {} ({:.1f} %); planted size within the stated 90 % in {} of {} ({:.1f} %)\n"
      "{:.2f} s of processor time each\n",
      p.cases, p.first, share(p.first, p.cases), p.alike, share(p.alike, p.cases), p.sure, p.sure_right,
      share(p.sure_right, p.sure), p.inside, p.sizes, share(p.inside, p.sizes), p.seconds);
  if (!readings.empty())
    out += fmt::format("readings until the verdict: median {}, 90 % within {}\n", readings[readings.size() / 2],
                       readings[readings.size() * 9 / 10]);
  return out;
}

}  // namespace airtally::agreement
