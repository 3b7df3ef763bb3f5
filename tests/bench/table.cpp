// Google Benchmark's JSON in, a page of ratios out: `airtally_bench_table results.json > docs/benchmarks.md`.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "curves.hpp"
#include "goals.hpp"

namespace {

using namespace airtally::bench;

std::vector<std::string> parts_of(const std::string& name) {
  std::vector<std::string> parts{""};
  for (const char c : name)
    if (c == '/')
      parts.emplace_back();
    else
      parts.back() += c;
  return parts;
}

/// By the clock where work is shared among threads or is another process's, else processor time.
double nanoseconds(const nlohmann::json& entry, bool by_the_clock) {
  const std::string unit = entry.at("time_unit");
  const double factor = unit == "s" ? 1e9 : unit == "ms" ? 1e6 : unit == "us" ? 1e3 : 1.0;
  return entry.at(by_the_clock ? "real_time" : "cpu_time").get<double>() * factor;
}

std::string time_text(double ns) {
  char text[32];
  if (ns < 1e4)
    std::snprintf(text, sizeof text, "%.0f ns", ns);
  else if (ns < 1e7)
    std::snprintf(text, sizeof text, "%.3g us", ns * 1e-3);
  else
    std::snprintf(text, sizeof text, "%.3g ms", ns * 1e-6);
  return text;
}

std::vector<Row> rows_of(const nlohmann::json& results) {
  std::vector<Row> rows;
  for (const auto& entry : results.at("benchmarks")) {
    if (entry.value("run_type", "") == "aggregate" && entry.value("aggregate_name", "") != "median") continue;
    if (entry.value("run_type", "") != "aggregate" && entry.value("repetitions", 0) > 1) continue;
    std::string name = entry.at("run_name");
    if (const auto end = name.find("/iterations:"); end != std::string::npos) name.resize(end);
    if (const auto end = name.find("/repeats:"); end != std::string::npos) name.resize(end);
    const std::size_t clock = name.rfind("/real_time");
    const bool by_the_clock = clock != std::string::npos;
    if (by_the_clock) name.resize(clock);
    const std::vector<std::string> parts = parts_of(name);
    Row row;
    row.group = parts.at(0);
    row.what = parts.at(1);
    row.solver = parts.at(2);
    row.setting = parts.size() > 3 ? parts[3] : "";
    row.failed = entry.value("error_occurred", false);
    if (!row.failed) row.time = nanoseconds(entry, by_the_clock);
    for (const char* key : {"error_pa", "steps", "evaluations", "newton_steps", "flows", "elements", "solves",
                            "bytes_per_element", "effective", "off"})
      if (entry.contains(key)) row.counters[key] = entry[key].get<double>();
    rows.push_back(std::move(row));
  }
  return rows;
}

std::string counters_text(const Row& row) {
  std::string text;
  for (const auto& [name, value] : row.counters) {
    if (name == "elements") continue;
    char number[48];
    std::snprintf(number, sizeof number, "%s%.3g %s", text.empty() ? "" : ", ", value,
                  name == "bytes_per_element" ? "bytes per element"
                  : name == "newton_steps"    ? "Newton steps"
                  : name == "off"             ? "off, of it"
                  : name == "error_pa"        ? "Pa off"
                                              : name.c_str());
    text += number;
  }
  return text;
}

/// One table: every solver of every case, with its time over our own.
void ratios(const std::vector<Row>& rows, const std::string& group, const char* title) {
  std::printf("\n## %s\n\n| case | solver | time | over ours | counts |\n|---|---|---|---|---|\n", title);
  for (const Row& row : rows) {
    if (row.group != group) continue;
    const auto own = std::find_if(rows.begin(), rows.end(), [&](const Row& r) {
      return r.group == group && r.what == row.what && r.solver == "own" && !r.failed;
    });
    char ratio[32] = "";
    if (row.solver != "own" && own != rows.end() && !row.failed)
      std::snprintf(ratio, sizeof ratio, "%.2f", row.time / own->time);
    std::printf("| %s | %s | %s | %s | %s |\n", row.what.c_str(), row.solver.c_str(),
                row.failed ? "gave up" : time_text(row.time).c_str(), ratio, counters_text(row).c_str());
  }
}

void header(const nlohmann::json& context) {
  std::printf(
      "# Benchmarks\n\nMade by `sh tests/bench/run`. Medians of %s; processor time where nothing else is said, so that "
      "other work on the machine counts less. Compare rows of one\nrun, not runs.\n\n- Machine: %d processors of %d "
      "MHz\n- Compiler: %s, Release "
      "build\n- Load while it ran: %.1f\n",
      "the repetitions", context.value("num_cpus", 0), context.value("mhz_per_cpu", 0), "g++ " __VERSION__,
      context.contains("load_avg") && !context["load_avg"].empty() ? context["load_avg"][0].get<double>() : 0.0);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "usage: airtally_bench_table results.json\n");
    return 2;
  }
  std::ifstream file(argv[1]);
  const nlohmann::json results = nlohmann::json::parse(file);
  const std::vector<Row> rows = rows_of(results);
  header(results.at("context"));
  ratios(rows, "law", "One law, one call");
  ratios(rows, "evaluation", "All flows and slopes of a line once (\"ev\")");
  ratios(rows, "elimination", "Factor and solve the line's linear system once");
  ratios(rows, "steady cold", "Steady, from nothing known");
  ratios(rows, "steady warm", "Steady, from a neighbouring answer");
  work_precision(rows);
  ratios(rows, "growth steady", "Steady, growing lines");
  ratios(rows, "growth transient", "Transient, growing lines");
  exponents(rows);
  ratios(rows, "question", "Whole questions; bands and hunts, which share out their work, by the clock");
  ratios(rows, "process", "Whole processes, by the clock");
  goals(rows);
}
