#pragma once
#include <string>
#include <utility>
#include <vector>

/// What `--sweep` and `--shard` ask for.
namespace airtally::cli {

/// The values that one name takes.
struct Sweep {
  std::string text;  ///< as it was given
  std::string path;  ///< "nozzle.bore"
  std::vector<std::string> values;
};

/// "nozzle.bore=0.4..2 mm:9" (evenly spread, both ends taken), "...:9 log" (by equal factors) or
/// "nozzle.bore=0.4 mm, 0.6 mm, 1 mm". Throws BadInput.
Sweep sweep_of(const std::string& text);

/// Every combination of the values, the last name changing fastest; of them only every N-th from the K-th on where the
/// shard is "K/N" (empty: all). Throws BadInput for a shard that is none.
std::vector<std::vector<std::string>> combinations(const std::vector<Sweep>& sweeps, const std::string& shard);

}  // namespace airtally::cli
