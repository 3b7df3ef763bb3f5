#include <fmt/format.h>

#include "read/stray.hpp"
#include "read/toml_file_private.hpp"

namespace airtally::read {
namespace {

std::string_view line_of(std::string_view text, int number) {
  for (int i = 1; i < number && !text.empty(); ++i) {
    const auto end = text.find('\n');
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
  }
  return text.substr(0, text.find('\n'));
}

// "bore = 4 mm": the commonest mistake, a value with its unit outside quotes.
bool looks_unquoted(std::string_view line) {
  const auto equals = line.find('=');
  if (equals == std::string_view::npos) return false;
  const auto start = line.find_first_not_of(" \t", equals + 1);
  if (start == std::string_view::npos) return false;
  const auto word = line.substr(start, line.find('#', start) - start);
  const bool number = (word.front() >= '0' && word.front() <= '9') || word.front() == '-' || word.front() == '+';
  return number && word.find_first_not_of("0123456789.+-eE_ \t\r,") != std::string_view::npos &&
         word.find('"') == std::string_view::npos;
}

/// What a person is likely to have done who gets this message from the parser, if that can be told.
const char* hint_for(std::string_view what, std::string_view line) {
  const auto says = [what](const char* words) { return what.find(words) != std::string_view::npos; };
  if (says("utf-8")) return " Save the file as plain text in UTF-8.";
  if (says("while parsing string") && says("control characters")) return " Is the closing quote missing?";
  for (const char* curly : {"\u201c", "\u201d", "\u201e"})
    if (line.find(curly) != std::string_view::npos) return " Quotes must be straight ones, as in bore = \"4 mm\".";
  if (says("cannot redefine existing array 'element'") || says("cannot redefine existing table 'element'"))
    return " Every element begins with [[element]], in two brackets.";
  if (says("cannot redefine existing array 'reading'") || says("cannot redefine existing table 'reading'"))
    return " Every reading begins with [[reading]], in two brackets.";
  if (says("cannot redefine")) return " It is there twice; leave one out.";
  if (says("saw ','") && says("comment or whitespace")) return " Write decimals with a point, as in 0.35.";
  if (says("expected '=', saw ':'")) return " Write key = value, as in bore = \"4 mm\".";
  if (says("root table") && says("saw '{'"))
    return " It looks like JSON; a line file begins with format = 1 and has a table [[element]] for each element.";
  if (says("inline table") && says("saw '\\n'")) return " What stands between { and } must stand on one line.";
  if (says("expected comma or closing ']'")) return " Is a comma or a ] missing before this place?";
  if (looks_unquoted(line) || says("value type"))
    return " A value with its unit stands between quotes, as in bore = \"4 mm\".";
  return "";
}

// Line and column of an offset, the column in characters.
Position position_of(std::string_view text, std::size_t offset, const std::string& name) {
  Position at{name, 1, 1};
  for (const char c : text.substr(0, offset)) {
    if (c == '\n') {
      ++at.line;
      at.column = 1;
    } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++at.column;
    }
  }
  return at;
}

}  // namespace

Position place(const toml::source_region& region) {
  // A change from the command line is its own place and has no lines.
  if (region.path && (region.path->starts_with("--set ") || region.path->starts_with("--sweep ")))
    return {*region.path, 0, 0};
  return {region.path ? *region.path : std::string(), static_cast<int>(region.begin.line),
          static_cast<int>(region.begin.column)};
}

toml::table parse_toml(std::string_view text, const std::string& name) {
  const Stray stray = stray_in(text);
  const bool plain = stray.at == std::string_view::npos;
  // What stands before the stray character may be wrong too, and then comes first; a question mark is as wrong as it
  // is.
  const std::string until = plain ? std::string() : std::string(text.substr(0, stray.at)) + "?";
  Position at;
  std::string what = "saw '?'";
  try {
    toml::table table = toml::parse(plain ? text : std::string_view(until), std::string_view(name));
    if (plain) return table;
  } catch (const toml::parse_error& error) {
    at = place(error.source());
    if (at.file.empty()) at.file = name;
    what = error.description();
    if (what.ends_with('.')) what.pop_back();
    if (what.ends_with(" (TOML_MAX_NESTED_VALUES)")) what.resize(what.rfind(" ("));  // the library's own business
  }
  const Position here = plain ? at : position_of(text, stray.at, name);
  if (!plain && (stray.in_text ? at.line >= here.line : what.find("'?'") != std::string::npos)) {
    at = here;
    what = stray.in_text ? "a character beyond ASCII stands behind a backslash"
                         : "a character beyond ASCII stands outside quotes and comments";
  }
  throw BadInput(
      at, fmt::format("this isn't TOML, the format of the file: {}.{}", what, hint_for(what, line_of(text, at.line))));
}

}  // namespace airtally::read
