#include "report/stats.hpp"

#include <fmt/format.h>

#include "report/json_private.hpp"
#include "report/look.hpp"

namespace airtally::report {

std::string stats_text(const Took& took) {
  const solve::WorkSum& work = took.work;
  std::string out;
  const auto row = [&](const char* what, const std::string& number, const char* meaning) {
    out += fmt::format("{:<15}{:>10}  {}\n", what, number, meaning);
  };
  const auto count = [](std::size_t n) { return fmt::format("{}", n); };
  const auto small = [](double x) { return fmt::format("{:.1e}", x); };
  row("unknowns", count(work.unknowns), "pressures in the largest line solved");
  row("solves", count(work.solves), "of a line at rest");
  row("iterations", count(work.iterations), "of these, linear solves");
  row("fallbacks", count(work.fallbacks), "solves that plain Newton did not manage");
  row("runs", count(work.runs), "stretches of time integrated");
  row("steps", count(work.steps), "of these");
  row("rejected steps", count(work.rejected), "taken again, shorter");
  row("residuals", count(work.evaluations), "evaluations of all flows, at rest and in time");
  row("worst balance", small(work.worst_balance), "of a place at rest, of the flow through it");
  row("worst run", small(work.worst_run_balance), "air or energy unaccounted for, of what is there");
  row("read", time(took.read), "time to read and check the files");
  row("study", time(took.study), "time to work out the answer");
  row("solve", time(work.seconds), "of that in the solvers, all threads added up");
  row("report", time(took.report), "time to write it down");
  out.pop_back();
  return out;
}

std::optional<std::string> with_stats(const std::string& text, const Took& took) {
  Json json = Json::parse(text, nullptr, false);
  if (!json.is_object()) return std::nullopt;
  const solve::WorkSum& work = took.work;
  Json& stats = json["stats"];
  stats["unknowns"] = work.unknowns;
  stats["solves"] = work.solves;
  stats["iterations"] = work.iterations;
  stats["fallbacks"] = work.fallbacks;
  stats["runs"] = work.runs;
  stats["steps"] = work.steps;
  stats["rejected_steps"] = work.rejected;
  stats["residuals"] = work.evaluations;
  put(stats, "worst_balance", work.worst_balance);
  put(stats, "worst_run_balance", work.worst_run_balance);
  Json& time = stats["time_s"];
  put(time, "read", took.read);
  put(time, "study", took.study);
  put(time, "solve", work.seconds);
  put(time, "report", took.report);
  return dumped(json);
}

}  // namespace airtally::report
