#include <algorithm>
#include <limits>
#include <numeric>

#include "hunt/judgement.hpp"
#include "hunt/next/parting.hpp"
#include "hunt/next/troubled.hpp"
#include "hunt/propose_private.hpp"

namespace airtally::hunt {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

/// Leaves out instruments that aren't to be had, and tests that have no other. The loose gauge is the same everywhere.
void leave_out(const std::vector<std::pair<Instrument, std::size_t>>& instruments, std::vector<NextTest>& tests) {
  for (NextTest& test : tests)
    std::erase_if(test.dials, [&](const Dial& dial) {
      return std::any_of(instruments.begin(), instruments.end(), [&](const auto& missing) {
        return missing.first == dial.instrument &&
               (missing.second == dial.at || dial.instrument == Instrument::plugged);
      });
    });
  std::erase_if(tests, [](const NextTest& test) { return test.dials.empty(); });
}

/// Of a line whose file has no gauge one at each source is supposed to be; who has read ammeters or flow meters and no
/// vacuum has none.
std::vector<std::pair<Instrument, std::size_t>> supposed_in_vain(const line::Line& line,
                                                                 const std::vector<Reading>& readings) {
  const bool described = std::any_of(line.elements.begin(), line.elements.end(),
                                     [](const line::Element& e) { return e.gauge.has_value(); });
  const auto by_meter = [](const Reading& r) {
    return r.instrument == Instrument::current || r.instrument == Instrument::flow;
  };
  std::vector<std::pair<Instrument, std::size_t>> all;
  if (!described && !readings.empty() && std::all_of(readings.begin(), readings.end(), by_meter))
    for (std::size_t i : gauges(line)) all.emplace_back(Instrument::vacuum, i);
  return all;
}

/// What was read `enough` times in the same setting is known as well as that instrument tells it: its own error stays.
void leave_out_read(const std::vector<Reading>& readings, std::ptrdiff_t enough, std::vector<NextTest>& tests) {
  for (NextTest& test : tests)
    std::erase_if(test.dials, [&](const Dial& dial) {
      return std::count_if(readings.begin(), readings.end(), [&](const Reading& reading) {
               return reading.setting == test.setting && reading.instrument == dial.instrument && reading.at == dial.at;
             }) >= enough;
    });
  std::erase_if(tests, [](const NextTest& test) { return test.dials.empty(); });
}

/// What can be read without touching the line again costs nothing.
void leave_standing(const Reading& last, std::vector<NextTest>& tests) {
  if (last.instrument == Instrument::inflow) return;  // a log: its clamp or valve is open again
  const auto standing =
      std::find_if(tests.begin(), tests.end(), [&](const NextTest& test) { return test.setting == last.setting; });
  if (standing == tests.end()) return;
  // The plug that is in has no gauge, unless that was read: changing it is as much as capping.
  const auto loose = [](const Dial& dial) { return dial.instrument == Instrument::plugged; };
  NextTest changed = *standing;
  standing->standing = true;
  standing->effort = 0.0;
  if (last.instrument == Instrument::plugged || std::erase_if(standing->dials, loose) == 0) return;
  if (standing->dials.empty()) tests.erase(standing);
  std::erase_if(changed.dials, [&](const Dial& dial) { return !loose(dial); });
  tests.push_back(std::move(changed));
}

/// Hidden faults with those draws alone that explain the readings about as well as their peak does. The normal
/// distribution they are drawn from touches the posterior there, but where a way is all but shut or a leak is large it
/// reaches far beyond: into states that would have shown, by which a test would seem to tell what was read already.
std::vector<Rival> still_hidden(Evidence& evidence, std::vector<Rival> hidden) {
  std::vector<double> r(evidence.size());
  const auto misfit = [&](const std::vector<double>& z) {
    return evidence.evaluate(z, r, {}) ? std::inner_product(r.begin(), r.end(), r.begin(), 0.0) : never;
  };
  for (Rival& rival : hidden) {
    const double most = misfit(rival.z) + parted;
    std::erase_if(rival.draws, [&](const std::vector<double>& z) { return misfit(z) > most; });
    if (rival.draws.empty()) rival.draws.push_back(rival.z);
  }
  return hidden;
}

/// The same beliefs, but the worst is who is furthest from what the file has, where any is; and where none costs more
/// than filed, who is most shut.
Beliefs by_excess(Beliefs beliefs) {
  for (std::size_t s = 0; s < beliefs.z.size(); ++s) {
    const std::vector<double>& excess = beliefs.costs.excess[s];
    const auto most = std::max_element(excess.begin(), excess.end());
    const std::vector<double>& open = beliefs.costs.open[s];
    const auto least = std::min_element(open.begin(), open.end());
    if (*most > 0.0)
      beliefs.costs.worst[s] = static_cast<std::size_t>(most - excess.begin());
    else if (*least < shut)
      beliefs.costs.worst[s] = static_cast<std::size_t>(least - open.begin());
  }
  return beliefs;
}

/// Half the weight for one that is worse than filed, half for who may be so in its place.
Beliefs by_place(Beliefs beliefs, const Instead& one) {
  std::fill(beliefs.costs.worst.begin(), beliefs.costs.worst.end(), one.element);
  return with_rivals(beliefs, {one.rival});
}

/// A suspect that no reading had on the line has to be put there first, whatever that tells: at its end if may be.
/// Before anything was read with nothing undone, all tips blocked: what leaks in all is what the other readings are
/// compared with, and half of the joints that caps would undo to come to the same end stay closed.
void put_on_first(const Suspects& suspects, const Bench& bench, const Beliefs& by, const std::vector<NextTest>& tests,
                  Hunt& result) {
  const auto capped = [](const NextTest& test) { return test.setting.cap.has_value(); };
  const NextTest* on = nullptr;
  for (const NextTest& test : tests)
    if (puts_on(result, test) && (on == nullptr || (!result.prior_only && capped(test)))) on = &test;
  if (on == nullptr) return;
  std::erase_if(result.next, [&](const NextTest& test) { return test.setting == on->setting; });
  result.next.insert(result.next.begin(), next_tests(suspects, bench, by, {*on}, 1).front());
}

}  // namespace

void propose(const Found& found, const HuntOptions& options, Hunt& result) {
  const Suspects& suspects = found.suspects;
  const Bench& bench = found.readings.bench;
  std::vector<NextTest> tests = possible_tests(suspects, bench, found.tips);
  leave_out(options.without, tests);
  leave_out(supposed_in_vain(suspects.line, found.readings.list), tests);
  leave_out_read(found.evidence.readings(), 2, tests);  // what was set aside has told nothing
  if (!found.readings.list.empty()) leave_standing(found.readings.list.back(), tests);
  const auto best_of = [&](const Beliefs& by, std::size_t most, const std::vector<std::size_t>& only) {
    return next_tests(suspects, bench, by, tests, most, only);
  };
  const std::size_t first = result.elements.front().element;
  if (!found.rivals.empty()) {
    result.next = best_of(with_rivals(found.beliefs, found.rivals), options.next, {});
    result.parts =
        put_parting_first(suspects, found.evidence, bench, found.modes, found.tips, first, found.rivals, result.next);
    for (NextTest& test : result.next) keep_blamed(test, first, found.rivals);
  } else {
    const Beliefs other = result.prior_only     ? troubled(suspects, found.tips)
                          : still_among(result) ? by_excess(found.beliefs)
                          : found.hidden.empty()
                              ? Beliefs{}
                              : with_rivals(found.beliefs, still_hidden(found.evidence, found.hidden));
    const Beliefs& by = other.z.empty() ? found.beliefs : other;
    // What hides shows by its nature nowhere that was looked at: reading there again can't part it.
    std::vector<NextTest> elsewhere = tests;
    if (!found.hidden.empty()) leave_out_read(found.evidence.readings(), 1, elsewhere);
    result.next = next_tests(suspects, bench, by, elsewhere, options.next);
    if (result.elements.front().only_prior && (result.prior_only || !further_test(result)))
      put_on_first(suspects, bench, by, tests, result);
    // Those beliefs have more wrong with the line than is likely, so that a test tells of it; what to expect of it is
    // told by what is likely.
    if (!other.z.empty()) expect(suspects, bench, found.beliefs, result.next);
    // Where no test tells more of the worst, who of two is not as the file has it is worth one.
    for (const Instead& one : found.instead) {
      if (further_test(result)) break;
      result.next = next_tests(suspects, bench, by_place(found.beliefs, one), elsewhere, options.next);
    }
  }
  constexpr double nearly_all = 0.9;
  for (LookAlikes& group : result.look_alikes) {
    std::vector<NextTest> best = best_of(found.beliefs, 1, group.elements);
    if (best.empty() || !worth_making(best.front().information.bits, doubt_of(result.elements, group.elements)))
      continue;
    double its = 0.0;
    for (const Finding& finding : result.elements)
      if (std::count(group.elements.begin(), group.elements.end(), finding.element) > 0)
        its += finding.worst_probability;
    // Where the doubt is between these and hardly anyone else the next test is theirs; a second would only confuse.
    const bool same = its >= nearly_all && found.rivals.empty() && further_test(result);
    group.test = same ? result.next.front() : std::move(best.front());
  }
}

}  // namespace airtally::hunt
