#pragma once
#include <string>
#include <vector>

#include "common.hpp"
#include "report/page/findings.hpp"

namespace airtally::cli {

/// What a page is to show beyond the line itself.
struct GatherOptions {
  std::vector<std::string> readings;  ///< files
  std::string log, log_at;            ///< file; element
  std::vector<std::string> from;      ///< catalogues of pumps and joints; empty: beside the line, else built in
  bool no_bands = false;
  std::string samples;
};

/// Asks every study that the line file has what it needs for. Throws BadInput, NoConvergence.
report::page::Findings gather(const CommonOptions& common, const GatherOptions& options);

}  // namespace airtally::cli
