#pragma once
#include <string>
#include <vector>

#include "report/page/findings.hpp"

namespace airtally::cli {

/// What a page is to show beyond the line itself.
struct GatherOptions {
  std::vector<std::string> readings;  ///< files
  std::string log, log_at;            ///< file; element
  bool no_bands = false;
  std::string samples;
};

/// Asks every study that the line file has what it needs for. Throws BadInput, NoConvergence.
report::page::Findings gather(const line::Line& line, const GatherOptions& options);

}  // namespace airtally::cli
