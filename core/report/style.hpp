#pragma once
#include <string>
#include <string_view>

namespace airtally::report {

/// How text for people is dressed. Whoever calls decides: colour only on a terminal and never under NO_COLOR.
struct Style {
  bool colour = false;  ///< may use the terminal's escape sequences
  bool ascii = false;   ///< nothing but ASCII, save for the names that the line file gives

  std::string bold(std::string_view text) const;     ///< what to read first
  std::string dim(std::string_view text) const;      ///< what only helps
  std::string warning(std::string_view text) const;  ///< what to heed
  std::string marked(std::string_view text) const;   ///< the culprit, the curve

  /// What stands for what was cut out of a name.
  std::string_view cut_mark() const { return ascii ? ".." : "…"; }
  /// One column of a line across.
  std::string_view bar() const { return ascii ? "-" : "─"; }
  /// Before a tolerance.
  std::string_view plus_minus() const { return ascii ? "+-" : "±"; }
  /// What points at something on its left.
  std::string_view arrow() const { return ascii ? "<-" : "◀"; }

 private:
  std::string dressed(std::string_view text, std::string_view code) const;
};

}  // namespace airtally::report
