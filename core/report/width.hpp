#pragma once
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

/// How much room text takes on a terminal, and making it fit. Text is UTF-8; bytes that are not count as one column
/// each.
namespace airtally::report {

/// Columns that the text takes on one line: accents that combine take none, wide letters (Chinese, Japanese, Korean,
/// most emoji) two. The ranges are those of Unicode's East Asian Width that matter for names; a terminal may differ on
/// rare signs.
std::size_t width(std::string_view text);

/// Whether a code point commands a terminal, turns the direction of writing, ends a line or has no width: C0 and C1
/// controls, Unicode's Bidi_Control, separators, signs that make two names look alike, tags.
bool commands(std::uint32_t code);

/// The text with "?" for what commands a terminal, turns the direction of writing or has no width, so that a name from
/// a file can neither break a line nor look like another.
std::string clean(std::string_view text);

/// A JSON text with the same signs as escapes, so that it is as harmless on a terminal and means the same to a program.
/// The line ends between its values stay.
std::string escaped(std::string_view json);

/// At most `columns` wide: what is too long loses its middle to `mark`, since names differ at both ends ("bank 1 nozzle
/// 3"). `columns` should be at least the width of the mark, which is never cut.
std::string cut(std::string_view text, std::size_t columns, std::string_view mark = "…");

/// Filled up with spaces on the right to `columns`. Longer text is left as it is.
std::string pad_right(std::string_view text, std::size_t columns);
/// The same with the spaces on the left.
std::string pad_left(std::string_view text, std::size_t columns);

/// The text broken at spaces into lines at most `columns` wide, all but the first indented by `indent` spaces, which
/// count. A word longer than a line is broken where the line ends.
std::vector<std::string> wrap(std::string_view text, std::size_t columns, std::size_t indent = 0);

/// The same as one text that ends in a newline.
std::string paragraph(std::string_view text, std::size_t columns = 80, std::size_t indent = 0);

}  // namespace airtally::report
