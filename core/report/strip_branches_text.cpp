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

std::string branch_sentence(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all,
                            const Look& look) {
  if (!all.worst_branch) return "";
  const BesideBranch& b = all.branches[*all.worst_branch];
  const line::Element& begins = line.elements[strip.branches[*b.branch].off];
  const double by = std::fabs(b.surprise);
  const std::string dial = dial_name(line, {b.instrument, b.at, 0.0});
  return fmt::format(
      "The branch that begins with {} costs {} than the file says, by {}: what is wrong is in it.", the(begins),
      is_gauge(b.instrument) ? vacuum(look, by) + " more vacuum" : "a current " + current_scale(by).text(by) + " other",
      dial);
}

std::string branches_beside(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all,
                            const Look& look) {
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
    const bool marked = all.worst_branch == i;
    table.add({b.branch ? name(line, strip.branches[*b.branch].off) : "none", name(line, b.at), scale.text(b.read),
               scale.text(b.predicted), scale.gain(b.read - b.predicted), b.compared ? scale.gain(b.surprise) : "-",
               marked ? std::string(look.style.arrow()) : ""},
              marked);
  }
  const std::string how =
      paragraph("branch: what it brought by the readings less what it brings by the file, against the whole line.");
  return fmt::format("{}{}\n{}{}", all.list.empty() ? "" : "\n", table.text(look.style), how,
                     all.others > 0 ? "\n" : "");
}

}  // namespace airtally::report
