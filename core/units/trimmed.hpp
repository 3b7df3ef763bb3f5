#pragma once

#include <string_view>

namespace airtally::units {

/// A text without what is blank at its ends.
/// @param text  any text, in UTF-8; empty where nothing else is in it
/// @param blank  the characters that count as blank, each of one byte
/// @return a view of the same bytes, which must outlive it
constexpr std::string_view trimmed(std::string_view text, std::string_view blank = " \t\r") {
  const std::size_t from = text.find_first_not_of(blank);
  return from == std::string_view::npos ? std::string_view()
                                        : text.substr(from, text.find_last_not_of(blank) - from + 1);
}

}  // namespace airtally::units
