// Any text as a quantity of any dimension: a finite quantity inside its own ends, or one sentence.
#include <cmath>
#include <cstdlib>

#include "fuzz/target.hpp"
#include "units/dimension.hpp"
#include "units/parse.hpp"

using namespace airtally;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  constexpr unsigned dimensions = static_cast<unsigned>(units::Dimension::warming) + 1;
  const auto dimension = static_cast<units::Dimension>(data[0] % dimensions);
  const std::string_view text = fuzz::text(data + 1, size - 1);
  try {
    const units::Quantity q = units::parse(text, dimension);
    fuzz::demand(std::isfinite(q.value) && std::isfinite(q.low) && std::isfinite(q.high), "a quantity is finite");
    fuzz::demand(q.low <= q.value && q.value <= q.high, "a quantity lies within its ends");
  } catch (const units::UnitError& error) {
    fuzz::demand(fuzz::one_sentence(error.what()), "a refusal is one sentence");
    fuzz::demand(error.offset <= text.size(), "the mistake lies in the text");
  }
  return 0;
}
