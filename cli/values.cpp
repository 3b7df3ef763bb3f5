#include "values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace airtally::cli {

units::Quantity quantity(const std::string& text, units::Dimension dimension, const std::string& option) {
  return of_option(option, [&] { return units::parse(text, dimension); });
}

std::size_t whole_number(const std::string& text, const std::string& option, std::size_t least, std::size_t most) {
  std::size_t number = 0;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, number);
  const bool bounded = most < std::numeric_limits<std::size_t>::max();
  if (read.ec != std::errc() || read.ptr != end || number < least || number > most)
    throw BadInput(Position{},
                   fmt::format("{}: '{}' is not a whole number from {} {}, such as {}.", option, text, least,
                               bounded ? fmt::format("to {}", most) : "up", std::max<std::size_t>(least, 1)));
  return number;
}

}  // namespace airtally::cli
