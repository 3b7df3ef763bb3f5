#pragma once
#include <cstddef>
#include <string_view>

namespace airtally::read {

/// A character beyond ASCII where it can't be read.
struct Stray {
  std::size_t at = std::string_view::npos;  ///< offset [byte]; npos: there is none
  bool in_text = false;                     ///< behind a backslash in a text
};

/// The first character beyond ASCII that stands outside quotes and comments, where TOML allows none, or in a
/// text behind a backslash, with or without blanks between: toml++ 3 runs into undefined behaviour on some of them
/// (U+00A1 to U+0499 where it expects a blank). A quote opens a text only where a key or a value may begin; within a
/// bare value, such as a number, the parser reads on over it. A mark of the byte order at the very beginning is no such
/// character, and text that is not UTF-8 has none from there on: the parser says so. Tested by tests/bad-input and
/// tests/fuzz.
Stray stray_in(std::string_view text);

}  // namespace airtally::read
