#pragma once
#include <optional>
#include <string>
#include <vector>

#include "hunt/hunt.hpp"
#include "hunt/logs/rise_fit.hpp"
#include "line/line.hpp"
#include "solve/answer.hpp"
#include "study/check.hpp"
#include "study/cycle.hpp"
#include "study/demand.hpp"
#include "study/hold.hpp"
#include "study/joint.hpp"
#include "study/outage.hpp"
#include "study/pumps.hpp"
#include "study/question.hpp"
#include "study/rank.hpp"
#include "study/rise.hpp"
#include "study/sense.hpp"
#include "study/strip.hpp"

namespace airtally::report::page {

/// A question with the bands of its numbers.
struct Banded {
  study::Question question;
  study::Bands bands;
};

/// The band of one measure: that with the key, of the element of that name ("": the whole line). None where it has
/// none.
std::optional<study::Band> band_of(const std::optional<Banded>& banded, const std::string& key,
                                   const std::string& element);

/// What was found out about one line: all that its page shows. The page computes nothing.
struct Findings {
  line::Line line;
  std::vector<solve::TipState> tips;        ///< the usual state, one per nozzle
  std::vector<solve::SteadyAnswer> steady;  ///< in the usual state first, then the others of open, part, blocked
  study::Ranking ranking;
  std::optional<Banded> ranking_bands;
  study::Strip strip;
  study::Rise rise;  ///< at the slowest tip, the gauges, the pump
  std::optional<Banded> rise_bands;
  std::optional<hunt::RiseFit> log;
  std::optional<study::PumpAgainstLine> pump;  ///< in the states of `steady`, in that order
  std::optional<study::CycleAnswer> cycle;
  std::optional<Banded> cycle_bands;  ///< of the slowest head's curve
  std::optional<study::Hold> hold;
  std::vector<study::Outage> outages;  ///< of that hold
  std::optional<study::Sense> sense;
  std::optional<study::Joint> joint;   ///< where the file has [twist]
  std::optional<study::Pumps> choice;  ///< where the file has other parts or nozzles
  std::optional<hunt::Hunt> hunt;
  std::vector<std::string> readings_files;  ///< as they were named
  std::vector<study::Warning> warnings;
};

/// Whether there is a hunt with at least one reading that could be used.
bool was_read(const Findings& found);

}  // namespace airtally::report::page
