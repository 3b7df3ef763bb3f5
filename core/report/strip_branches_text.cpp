// Where the line forks: what was read with one branch off, beside the file.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/hunt_text.hpp"
#include "report/strip_readings_private.hpp"
#include "report/table.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {

using hunt::BesideBranch;

namespace {

std::vector<std::string> begin_with(const line::Line& line, const BesideBranch& b) {
  std::vector<std::string> all;
  for (const std::size_t i : b.off) all.push_back(the(line.elements[i]));
  return all;
}

}  // namespace

std::string branch_sentence(const line::Line& line, const hunt::BesideAll& all, const Look& look) {
  using Kind = hunt::BranchFinding::Kind;
  const hunt::BranchFinding& finding = all.branch_finding;
  if (finding.kind == Kind::none) return "";
  const BesideBranch& b = all.branches[finding.reading];
  const bool gauge = is_gauge(b.instrument);
  const auto number = [&](double si) { return gauge ? vacuum(look, si) : current_scale(std::fabs(si)).text(si); };
  const std::string dial = dial_name(line, {b.instrument, b.at, 0.0});
  const bool several = b.off.size() > 1;
  const std::string begins = listed(begin_with(line, b));
  const std::string branch =
      several ? "the branches that begin with " + begins : "the branch that begins with " + begins;
  const std::string off = b.off.empty() ? "With nothing off" : "Without " + branch;
  const std::string read =
      fmt::format("{} {} read {} where the file says {}", off + ',', dial, number(b.read), number(b.predicted));
  switch (finding.kind) {
    case Kind::contradicted:
      return fmt::format(
          "These readings contradict each other: without {}, {} read less vacuum than with the whole line. Less of the "
          "line leaks less, so the vacuum can only rise. One was misread: take both again.",
          branch, dial);
    case Kind::branch:
      if (!b.compared)
        return fmt::format(
            "Without {} the line is as the file has it, by {}, and else it lacks vacuum: what is wrong is in {}.",
            branch, dial, several ? "one of these" : "that branch");
      return fmt::format(
          "{} {} {} than the file says, by {}, and without {} the line is as the file has it: what is wrong is in {}.",
          capital(branch), several ? "cost" : "costs",
          number(std::fabs(b.surprise)) + (gauge ? " more vacuum" : " other"), dial, several ? "them" : "it",
          several ? "one of them" : "that branch");
    case Kind::elsewhere: {
      const bool compared =
          std::any_of(all.branches.begin(), all.branches.end(), [](const BesideBranch& one) { return one.compared; });
      return read +
             (compared
                  ? ", and no branch by itself brings that: what is wrong is before the fork, the pump among it, or in "
                    "several branches."
              : !b.off.empty()
                  ? ": what is wrong is in what was still on. Read it once with nothing off, and once without "
                    "each other branch."
                  : ". Take one branch off after another and read the same instrument.");
    }
    case Kind::above:
      return read +
             ": the pump pulls more than its curve, the gauge reads too high, or the line passes or leaks less than "
             "in the file.";
    case Kind::better:
      return fmt::format(
          "{} costs {} less vacuum than the file says: it leaks less, or "
          "something in it is clogged.",
          capital(branch), several ? "cost" : "costs", number(b.surprise));
    case Kind::none:
      break;
  }
  return "";
}

std::string branches_beside(const line::Line& line, const hunt::BesideAll& all, const Look& look) {
  if (all.branches.empty()) return "";
  double deepest = 0.0, most = 0.0;
  for (const BesideBranch& b : all.branches) {
    double& scale = is_gauge(b.instrument) ? deepest : most;
    scale = std::max(scale, std::fabs(b.read));
  }
  const Scale vacuums = vacuum_scale(look, deepest), amperes = current_scale(most);
  Table table(
      {{"branch off", "", true}, {"read at", "", true}, {"read"}, {"by the file"}, {"off by"}, {"branch"}, {""}});
  for (std::size_t i = 0; i < all.branches.size(); ++i) {
    const BesideBranch& b = all.branches[i];
    const Scale& scale = is_gauge(b.instrument) ? vacuums : amperes;
    const bool marked = all.branch_finding.kind == hunt::BranchFinding::Kind::branch && all.branch_finding.reading == i;
    std::string off;
    for (const std::size_t e : b.off) off += (off.empty() ? "" : ", ") + name(line, e);
    table.add({b.off.empty() ? "none" : off, name(line, b.at), scale.text(b.read), scale.text(b.predicted),
               scale.gain(b.read - b.predicted), b.compared ? scale.gain(b.surprise) : "-",
               marked ? std::string(look.style.arrow()) : ""},
              marked);
  }
  const std::string how =
      paragraph("branch: what it brought by the readings less what it brings by the file, against the whole line.");
  return fmt::format("{}{}\n{}{}", all.list.empty() ? "" : "\n", table.text(look.style), how,
                     all.others > 0 ? "\n" : "");
}

}  // namespace airtally::report
