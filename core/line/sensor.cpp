#include "line/sensor.hpp"

#include <array>

namespace airtally::line {

std::string_view word(FrontEnd front_end) {
  constexpr std::array<std::string_view, 4> words{"bare", "difference", "instrumentation", "converter"};
  return words.at(static_cast<std::size_t>(front_end));
}

}  // namespace airtally::line
