#pragma once
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "line/line.hpp"
#include "units/dimension.hpp"

/// In what do lines differ?
namespace airtally::line {

/// A value that one line has and another has not, or has otherwise.
struct Difference {
  /// A quantity [SI], or the word that stands in its place ("open", "rim").
  using Value = std::variant<Quantity, std::string>;

  std::string owner;  ///< name of the element, or "part", "move", "cycle", "sensor", "site", "line"
  std::string key;    ///< as `--set` has it behind the owner: "leak.clearance"; empty: the owner itself is not in all
  units::Dimension dimension = units::Dimension::number;  ///< of the values; number for words
  std::vector<std::optional<Value>> values;               ///< per line; none where it has no such thing
  /// Per line: index of the element called `owner` among its elements; none where there is none.
  std::vector<std::optional<std::size_t>> elements;
};

/// All of them: elements in the order in which the lines name them, matched by name, then part, move, cycle, sensor and
/// site. None when fewer than two lines are given. What an owner is made of is compared among the lines that have it.
/// Titles and comments don't count. The order of elements that all lines have counts as one difference, of the "line".
std::vector<Difference> differences(std::span<const Line> lines);

}  // namespace airtally::line
