#include "report/hunt_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "hunt/beliefs/priors.hpp"
#include "hunt/judgement.hpp"
#include "report/bands_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/said_in.hpp"
#include "report/table.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

using hunt::Hunt;

std::string table_of(const line::Line& line, const Hunt& hunt, const Look& look) {
  double leak = 0.0, cost = 0.0;
  for (const hunt::Finding& f : hunt.elements) {
    leak = std::max(leak, f.leak.median);
    cost = std::max(cost, f.cost.median);
  }
  const Scale leaks = leak_scale(leak), costs = vacuum_scale(look, cost);
  Table table({{"element", "", true},
               {"worst", "%"},
               {"leak", leaks.unit()},
               {"from", leaks.unit()},
               {"to", leaks.unit()},
               {"open", "%"},
               {"costs", costs.unit()},
               {""}});
  std::vector<Span> chances;
  for (const hunt::Finding& f : hunt.elements) {
    const std::vector<std::size_t> group = told_as_one(hunt, f.element);
    if (f.element != group.front()) continue;
    const double worst = f.worst_probability * static_cast<double>(group.size());
    chances.push_back({0.0, worst});
    table.add({group_name(line, group), fmt::format("{:.0f}", 100.0 * worst), leaks.number(f.leak.median),
               leaks.number(f.leak.low), leaks.number(f.leak.high),
               f.open_fraction ? fmt::format("{:.0f}", 100.0 * f.open_fraction->median) : "-",
               costs.number(f.cost.median), f.only_prior && !hunt.prior_only ? "not tested" : ""},
              &f == &hunt.elements.front() && hunt::verdict(hunt) == hunt::Verdict::sure);
  }
  table.draw(std::move(chances));
  return table.text(look.style);
}

/// What the columns of the table are.
std::string legend_of(const line::Line& line, const Hunt& hunt, const Look& look) {
  const bool grouped = std::any_of(hunt.elements.begin(), hunt.elements.end(),
                                   [&](const hunt::Finding& f) { return told_as_one(hunt, f.element).size() > 1; });
  std::string out;
  for (const std::string& row : wrap(
           fmt::format(
               "worst, and the bars: chance that mending it gains the tip most, leak, blockage and wear together. "
               "leak: as free air at {} vacuum, with the range that holds it with 90 %. open: what its way "
               "lets through of what a clear one does.{}",
               said_in(look, fmt::format("{:.0f} kPa", 1e-3 * hunt::leak_vacuum(line.site))),
               grouped ? " A row of several that are alike, to the file and to the readings, has the chance that it is "
                         "any of them; all else in it is of each."
                       : ""),
           80))
    out += look.style.dim(row) + '\n';
  return out;
}

}  // namespace

std::string hunt_text(const line::Line& line, const Hunt& hunt, const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(hunt_verdict(line, hunt, look)) + '\n';
  for (const hunt::Impossible& aside : hunt.set_aside) out += paragraph(said_in(look, set_aside_sentence(aside)));
  for (const std::string& remark : hunt.remarks) out += paragraph(said_in(look, remark));
  if (!hunt.set_aside.empty() || !hunt.remarks.empty()) out += '\n';
  const bool ranked = hunt.prior_only || hunt.effective >= hunt::fewest_for_verdict;
  if (ranked) out += table_of(line, hunt, look) + '\n';
  if (!hunt.prior_only && ranked) {
    const std::string wear = wear_sentence(line, hunt);
    if (!wear.empty()) out += paragraph(wear) + '\n';
    const std::string bores = bore_sentence(line, hunt);
    if (!bores.empty()) out += paragraph(bores) + '\n';
    const std::string doubts = doubts_sentence(line, hunt);
    if (!doubts.empty()) out += paragraph(doubts) + '\n';
  }
  if (ranked) out += legend_of(line, hunt, look) + '\n';
  for (const hunt::LookAlikes& group : hunt.look_alikes)
    out += paragraph(look_alikes_sentence(line, hunt, group, look));
  if (!hunt.next.empty()) {
    // A verdict with nothing left open ends the hunt, as it does at the bench.
    const bool mend = hunt::verdict(hunt) == hunt::Verdict::sure && !hunt::nothing_much(hunt) &&
                      !hunt::still_among(hunt) && !hunt::in_its_place(hunt);
    const bool further = !mend && hunt::further_test(hunt);
    const hunt::NextTest* test = further ? &hunt.next.front() : hunt.with_plug_gauge ? &*hunt.with_plug_gauge : nullptr;
    out += paragraph(mend      ? "Next: " + what_to_mend(line, hunt) + " See whether the tip gains what is promised."
                     : further ? "Next: " + test_sentence(line, *test, look)
                               : dead_end(line, hunt, look));
    if (test && !mend) {
      out += paragraph(outcomes_sentence(line, hunt, *test, look), 80, 4);
      if (const std::string loose = loose_gauge_sentence(line, hunt, look); !loose.empty()) out += paragraph(loose);
    }
    out += paragraph(bench_cautions(line));
  }
  if (!hunt.prior_only) {
    std::string how = fmt::format(
        "{} samples, worth {:.0f} independent ones (R-hat {:.2f}; 1 is best). Were the best fit the truth, readings "
        "would miss it by as much or more in {} of cases (chi-square {:.1f}, {:.1f} degrees of freedom).",
        hunt.samples, hunt.effective, hunt.r_hat, chance(hunt.quality.chance), hunt.quality.chi_square,
        hunt.quality.freedom);
    if (!hunt.converged)
      how += hunt.quality.chance < hunt::unbelievable ? ""
             : hunt.quick                             ? " Too few to be sure of the figures: leave out --quick."
                          : " Too few to be sure of the figures: another --seed may say otherwise.";
    out += '\n';
    for (const std::string& row : wrap(how, 80)) out += look.style.dim(row) + '\n';
  }
  return out;
}

}  // namespace airtally::report
