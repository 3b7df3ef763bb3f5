// Any text as a log: refused with complaints in order, or a course whose time rises and whose vacuum is below ambient.
#include "read/log_file.hpp"

#include <cmath>

#include "fuzz/target.hpp"

using namespace airtally;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  constexpr double ambient = 101325.0;
  const std::string file = "log.csv";
  try {
    const line::Log log = read::read_log_text(fuzz::text(data, size), file, ambient);
    fuzz::demand(log.time.size() == log.vacuum.size() && log.time.size() >= 3, "a log has three rows or more");
    for (std::size_t i = 0; i < log.time.size(); ++i) {
      fuzz::demand(std::isfinite(log.time[i]) && std::isfinite(log.vacuum[i]), "a log is finite");
      fuzz::demand(i == 0 || log.time[i] > log.time[i - 1], "time rises");
      fuzz::demand(log.vacuum[i] < ambient, "no vacuum is deeper than ambient");
    }
  } catch (const BadInput& refusal) {
    fuzz::demand_order(refusal, file);
  }
  return 0;
}
