#include "goals.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <string>

#include "curves.hpp"

namespace airtally::bench {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

const Row* find(const std::vector<Row>& rows, const char* group, const std::string& what, const char* solver = "own") {
  const auto at = std::find_if(rows.begin(), rows.end(), [&](const Row& r) {
    return r.group == group && r.what == what && r.solver == solver && !r.failed;
  });
  return at == rows.end() ? nullptr : &*at;
}

double ratio(const Row* part, const Row* whole) { return part && whole ? part->time / whole->time : unknown; }

/// Ours over the peer's, of the times to an error of 0.1 Pa.
double pull_down(const std::vector<Row>& rows, const char* what, const char* solver) {
  const auto own = time_at_goal(rows, what, "own"), peer = time_at_goal(rows, what, solver);
  return own && peer ? *own / *peer : unknown;
}

struct Goal {
  const char* what;
  double most;
  double reached;
  std::string why;  ///< what a profile showed where it is missed
};

constexpr const char* laws_open =
    "the laws: a trial of a duct between laminar and turbulent flow is three or four logarithms and exponentials, and "
    "most "
    "flows take one trial";
constexpr const char* laws_moving =
    "the laws take 54 to 58 % of our time, gathering flows 15 to 20 %, the linear solves 7 to 9 %; both sides share "
    "the "
    "first two, and ours takes six evaluations a step";

}  // namespace

void goals(const std::vector<Row>& rows) {
  const auto nanoseconds = [&](const char* state) {
    const Row* ev = find(rows, "evaluation", state);
    return ev && ev->counters.contains("flows") ? ev->time / ev->counters.at("flows") : unknown;
  };
  const auto evaluations = [&](const char* group, const char* state) {
    return ratio(find(rows, group, state, "own, to 1e-9"), find(rows, "evaluation", state));
  };
  const auto seconds = [&](const char* group, const char* what) {
    const Row* row = find(rows, group, what);
    return row ? row->time * 1e-9 : unknown;
  };
  const char *open = "jewel-setter open", *part = "jewel-setter part";
  const char* cvode = "CVODE dense";
  const char* tree = "CVODE with our elimination";
  char process[200];
  std::snprintf(
      process, sizeof process,
      "a program that does nothing takes %.1f ms here; reading and checking a line file 1.5 to 2 ms, by --stats",
      1e3 * seconds("process", "a program that does nothing"));
  const std::string bands = std::string(process) + "; most of the rest are bands, drawn unasked where that is quick";
  const double five = 5.0 * ratio(find(rows, "evaluation", part), find(rows, "steady cold", part, "KINSOL dense"));
  char kinsol_floor[160];
  std::snprintf(kinsol_floor, sizeof kinsol_floor,
                "four Newton steps need five evaluations of the flows, which both share; these alone are %.2f of "
                "KINSOL's time",
                five);
  const Goal all[] = {
      {"one flow with slopes, tip open [ns]", 100, nanoseconds(open), laws_open},
      {"one flow with slopes, part on [ns]", 30, nanoseconds(part), laws_open},
      {"steady from nothing to 1e-9, tip open [evaluations]", 6, evaluations("steady cold", open),
       "six Newton steps, seven evaluations and the linear start"},
      {"steady from nothing to 1e-9, part on [evaluations]", 12, evaluations("steady cold", part), ""},
      {"steady from nothing over KINSOL dense, part on, both to 1e-9", 0.33,
       ratio(find(rows, "steady cold", part, "own, to 1e-9"), find(rows, "steady cold", part, "KINSOL dense")),
       kinsol_floor},
      {"steady from a neighbour to 1e-9, part on [evaluations]", 3, evaluations("steady warm", part),
       "three Newton steps, four evaluations"},
      {"pull-down over CVODE dense, tip open", 0.3, pull_down(rows, open, cvode), laws_moving},
      {"pull-down over CVODE dense, part on", 0.12, pull_down(rows, part, cvode), laws_moving},
      {"pull-down over CVODE with our elimination, tip open", 0.6, pull_down(rows, open, tree), laws_moving},
      {"pull-down over CVODE with our elimination, part on", 0.3, pull_down(rows, part, tree), laws_moving},
      {"a pick with its events over CVODE dense", 0.12, pull_down(rows, "jewel-setter pick", cvode), laws_moving},
      {"a pick with its events over CVODE with our elimination", 0.3, pull_down(rows, "jewel-setter pick", tree),
       laws_moving},
      {"1,000 places over CVODE with KLU, tree", 0.25,
       ratio(find(rows, "growth transient", "tree of 1000"),
             find(rows, "growth transient", "tree of 1000", "CVODE KLU")),
       ""},
      {"1,000 places over CVODE with KLU, chain", 0.25,
       ratio(find(rows, "growth transient", "chain of 1000"),
             find(rows, "growth transient", "chain of 1000", "CVODE KLU")),
       "184 steps of CVODE against 29 of ours, each of which evaluates and solves six times"},
      {"growth, steady tree [exponent]", 1.05, exponent(rows, "growth steady", "tree"), "memory beyond the cache"},
      {"growth, pull-down of a tree [exponent]", 1.05, exponent(rows, "growth transient", "tree"),
       "more places, more different time constants: 24 steps become 54"},
      {"100,000 elements, steady tree [s]", 0.3, seconds("growth steady", "tree of 100000"), "memory"},
      {"settle time, part on [evaluations]", 100,
       ratio(find(rows, "question", "settle time, jewel-setter"), find(rows, "evaluation", part)),
       "235 evaluations of a pull-down to 2e-4 of its time; with the heat of the walls one costs twice as much"},
      {"fit of 10 leaks to 8 readings [steady solves]", 40,
       ratio(find(rows, "question", "fit of 10 leaks to 8 readings, two-spindle-sorter"),
             find(rows, "question", "steady, two-spindle-sorter")),
       "every evaluation solves the line once for each reading"},
      {"rank with times, jewel setter [s]", 0.05, seconds("question", "rank, jewel-setter"), ""},
      {"hunt, fit and next tests [s]", 0.05,
       seconds("question", "hunt's peaks, jewel-setter") +
           seconds("question", "hunt's list of next tests, jewel-setter"),
       "the list: half are solves of every sample at every test, a third densities for two instruments together"},
      {"hunt with sampling [s]", 1.0, seconds("question", "hunt with sampling, jewel-setter"), ""},
      {"10,000 steady samples, on 2 threads over 1", 1.0 / 1.85,
       ratio(find(rows, "question", "bands of 10,000 on 2 threads, jewel-setter"),
             find(rows, "question", "bands of 10,000 on 1 thread, jewel-setter")),
       "by the clock, on two shared processors"},
      {"whole process, --version [s]", 0.004, seconds("process", "--version"), process},
      {"whole process, steady [s]", 0.01, seconds("process", "steady jewel-setter.toml"), bands},
      {"whole process, rise [s]", 0.01, seconds("process", "rise jewel-setter.toml"), process},
      {"whole process, rank [s]", 0.05, seconds("process", "rank jewel-setter.toml"), bands},
  };
  std::printf("\n## Goals\n\n| what | at most | here | | where it falls short, by profile |\n|---|---|---|---|---|\n");
  for (const Goal& goal : all) {
    if (std::isnan(goal.reached)) {
      std::printf("| %s | %.3g | - | not measured | |\n", goal.what, goal.most);
      continue;
    }
    const bool met = goal.reached <= goal.most;
    std::printf("| %s | %.3g | %.3g | %s | %s |\n", goal.what, goal.most, goal.reached, met ? "met" : "missed",
                met ? "" : goal.why.c_str());
  }
}

}  // namespace airtally::bench
