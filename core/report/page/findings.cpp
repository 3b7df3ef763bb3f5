#include "report/page/findings.hpp"

namespace airtally::report::page {

std::optional<study::Band> band_of(const std::optional<Banded>& banded, const std::string& key,
                                   const std::string& element) {
  if (!banded) return std::nullopt;
  for (std::size_t m = 0; m < banded->question.measures.size(); ++m) {
    const study::Measure& measure = banded->question.measures[m];
    if (measure.key == key && measure.element == element && measure.time < 0.0) return banded->bands.bands.at(m);
  }
  return std::nullopt;
}

bool was_read(const Findings& found) { return found.hunt && !found.hunt->prior_only; }

}  // namespace airtally::report::page
