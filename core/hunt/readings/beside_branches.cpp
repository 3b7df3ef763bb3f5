// Where the line forks: readings with one branch off, beside those with none.
#include <algorithm>
#include <cmath>

#include "hunt/readings/beside_branches_private.hpp"
#include "hunt/readings/beside_others_private.hpp"
#include "hunt/readings/cut.hpp"

namespace airtally::hunt {

std::optional<BesideBranch> branch_beside(const line::Line& line, const line::Topology& topology,
                                          const study::Strip& strip, const Bench& bench, const Reading& reading) {
  const Setting& setting = reading.setting;
  const bool gauge = reading.instrument == Instrument::vacuum, ammeter = reading.instrument == Instrument::current;
  if (setting.cap || (!gauge && !ammeter) || (setting.off.empty() && strip.branches.empty())) return std::nullopt;
  const Cut left = cut(line, topology, setting);
  if (left.tips != cut(line, topology, {{}, 0.0, strip.tips, setting.off}).tips) return std::nullopt;
  const std::optional<double> predicted = filed(line, left, reading);
  if (!predicted) return std::nullopt;
  const Meter meter = meter_at(line, bench, reading.instrument, reading.at);
  BesideBranch one;
  one.off = setting.off;
  one.instrument = reading.instrument;
  one.at = reading.at;
  one.read = reading.value;
  one.predicted = *predicted;
  one.noise = reading.noise > 0.0 ? reading.noise : meter.noise();
  one.accuracy = 0.5 * meter.accuracy;
  return one;
}

namespace {

constexpr double much = 0.5;  ///< of what surprises: as much lies elsewhere; no source

/// Read more than the file says by what the instrument's noise, its own error and pumps leave open; below 0 less.
double off_file(const BesideBranch& b, double beyond) {
  const double open = std::max(beyond * std::hypot(b.noise, b.accuracy), as_pumps * std::fabs(b.predicted));
  const double off = b.read - b.predicted;
  return std::fabs(off) <= open ? 0.0 : off;
}

/// What the readings say, from those that surprise.
class Judge {
 public:
  Judge(double beyond, const std::vector<BesideBranch>& all, const std::vector<double>& deviations)
      : beyond_(beyond), all_(all), deviations_(deviations) {}

  BranchFinding finding() const {
    using Kind = BranchFinding::Kind;
    for (const auto& [kind, says] :
         {std::pair(Kind::contradicted, &Judge::contradicts), std::pair(Kind::branch, &Judge::blames),
          std::pair(Kind::branch, &Judge::clears_alone), std::pair(Kind::elsewhere, &Judge::lacks),
          std::pair(Kind::better, &Judge::spares), std::pair(Kind::above, &Judge::exceeds)}) {
      std::size_t most = 0;
      double how_much = 0.0;
      for (std::size_t i = 0; i < all_.size(); ++i)
        if (const double own = (this->*says)(i); own > how_much) most = i, how_much = own;
      if (how_much > 0.0) return {kind, most};
    }
    return {};
  }

 private:
  // How much reading i says so [deviations]; 0: it does not.

  /// That the vacuum fell without a branch.
  double contradicts(std::size_t i) const {
    const BesideBranch& b = all_[i];
    if (!b.compared || !is_gauge(b.instrument)) return 0.0;
    const double fell = b.surprise + (b.predicted_whole - b.predicted);  // read with it less read without it
    return fell > beyond_ * std::sqrt(2.0) * b.noise ? fell / b.noise : 0.0;
  }
  /// That what is off brings more than filed, and all that does: the line is as filed without it, and nothing else
  /// brings half as much. Of several that hold each other the fewest.
  double blames(std::size_t i) const {
    const BesideBranch& b = all_[i];
    if (!worse(i) || std::fabs(off_file(b, beyond_)) > much * std::fabs(b.surprise)) return 0.0;
    for (std::size_t k = 0; k < all_.size(); ++k) {
      if (!same(all_[k], b) || all_[k].off == b.off || !worse(k)) continue;
      const bool as_much = std::fabs(all_[k].surprise) > much * std::fabs(b.surprise);
      const bool within = holds(b.off, all_[k].off), around = holds(all_[k].off, b.off);
      if (as_much && (within || !around)) return 0.0;
    }
    return deviations_[i];
  }
  /// The same where the whole line was not read: of all readings this one alone is as filed.
  double clears_alone(std::size_t i) const {
    const BesideBranch& b = all_[i];
    if (b.compared || b.off.empty() || off_file(b, beyond_) != 0.0) return 0.0;
    double lacks = 0.0;
    for (std::size_t k = 0; k < all_.size(); ++k) {
      if (k == i || !same(all_[k], b)) continue;
      const double off = std::fabs(off_file(all_[k], beyond_));
      if (!(off > 0.0)) return 0.0;
      lacks = std::max(lacks, off / b.noise);
    }
    return lacks;
  }
  double lacks(std::size_t i) const {
    const double off = off_file(all_[i], beyond_) / all_[i].noise;
    return is_gauge(all_[i].instrument) ? -off : std::fabs(off);
  }
  double exceeds(std::size_t i) const {
    return is_gauge(all_[i].instrument) ? off_file(all_[i], beyond_) / all_[i].noise : 0.0;
  }
  double spares(std::size_t i) const {
    const BesideBranch& b = all_[i];
    if (!is_gauge(b.instrument) || !(b.surprise > 0.0) || !(deviations_[i] > beyond_)) return 0.0;
    return std::fabs(off_file(b, beyond_)) > much * b.surprise ? 0.0 : deviations_[i];
  }
  bool worse(std::size_t i) const {
    const BesideBranch& b = all_[i];
    return b.compared && deviations_[i] > beyond_ && (!is_gauge(b.instrument) || b.surprise < 0.0);
  }
  static bool same(const BesideBranch& a, const BesideBranch& b) {
    return a.instrument == b.instrument && a.at == b.at;
  }
  /// Both in line order.
  static bool holds(const std::vector<std::size_t>& all, const std::vector<std::size_t>& some) {
    return std::includes(all.begin(), all.end(), some.begin(), some.end());
  }

  double beyond_;
  const std::vector<BesideBranch>& all_;
  const std::vector<double>& deviations_;
};

}  // namespace

void compare_branches(double beyond, BesideAll& all) {
  std::stable_sort(all.branches.begin(), all.branches.end(),
                   [](const BesideBranch& a, const BesideBranch& b) { return a.off < b.off; });
  std::vector<double> deviations(all.branches.size(), 0.0);
  for (std::size_t i = 0; i < all.branches.size(); ++i) {
    BesideBranch& here = all.branches[i];
    const auto whole = std::find_if(all.branches.begin(), all.branches.end(), [&](const BesideBranch& b) {
      return b.off.empty() && b.instrument == here.instrument && b.at == here.at;
    });
    if (here.off.empty() || whole == all.branches.end()) continue;
    here.compared = true;
    here.predicted_whole = whole->predicted;
    here.surprise = (whole->read - here.read) - (whole->predicted - here.predicted);
    deviations[i] = std::fabs(here.surprise) / std::hypot(whole->noise, here.noise);
  }
  all.branch_finding = Judge(beyond, all.branches, deviations).finding();
}

}  // namespace airtally::hunt
