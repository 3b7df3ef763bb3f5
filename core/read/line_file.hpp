#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "line/line.hpp"

/// A line file (TOML, docs/line-format.md) to a Line. Each key and value is checked by itself here; how the elements
/// hang together is checked when the line is built.
namespace airtally::read {

/// One value set to something else than the file says, as if it had been written there.
struct Change {
  std::string path;   ///< "nozzle.bore", "rotary joint.leak.clearance", "part.gap", "pump.curve[2].flow"
  std::string value;  ///< as in the file but without quotes: "0.8 mm"; "[...]" and "{...}" as TOML
  std::string place;  ///< stands for file, line and column in complaints about it
};

/// The change that "nozzle.bore=0.8 mm" asks for, its place "--set '...'". Throws BadInput where the name, the value or
/// the sign between is missing, and for control characters.
Change change_of(const std::string& text);

/// Reads a line file. The catalogue of `use` is looked for in the folder "catalogue" beside the file, then in
/// `catalogues`, in order. `changes` are made in turn before anything is read. Throws BadInput with everything that is
/// wrong, in the order of the file; more than 2000 elements are wrong as well.
line::Line read_line(const std::filesystem::path& file, const std::vector<std::filesystem::path>& catalogues = {},
                     const std::vector<Change>& changes = {});

/// The same from a text; `name` stands for the file in complaints. The catalogue is looked for in `catalogues` only.
line::Line read_line_text(std::string_view text, const std::string& name,
                          const std::vector<std::filesystem::path>& catalogues = {},
                          const std::vector<Change>& changes = {});

}  // namespace airtally::read
