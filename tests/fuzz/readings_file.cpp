// Any text as a readings file: refused with complaints in order, or readings that are finite.
#include "read/readings_file.hpp"

#include <cmath>

#include "fuzz/target.hpp"

using namespace airtally;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string file = "readings.toml";
  try {
    const line::Notes notes = read::read_readings_text(fuzz::text(data, size), file);
    for (const line::Note& note : notes.list) {
      fuzz::demand(std::isfinite(note.value), "a reading is finite");
      fuzz::demand(std::isfinite(note.hole) && note.hole >= 0.0, "a hole is not negative");
      fuzz::demand(!note.cap.empty() || !note.off.empty() || !note.tips.empty(),
                   "a reading says what was done to the line");
    }
  } catch (const BadInput& refusal) {
    fuzz::demand_order(refusal, file);
  }
  return 0;
}
