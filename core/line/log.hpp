#pragma once
#include <string>
#include <vector>

namespace airtally::line {

/// A recorded course of vacuum at one place.
struct Log {
  std::string file;                ///< for sentences
  std::vector<double> time;        ///< [s], rising strictly, as recorded: it need not begin at 0
  std::vector<double> vacuum;      ///< below the site's ambient [Pa], less than it, one per time
  std::size_t gaps = 0;            ///< rows left out because a cell was empty
  std::vector<std::string> notes;  ///< how the columns were understood, where that was not plain
};

}  // namespace airtally::line
