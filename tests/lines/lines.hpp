#pragma once
#include <string>

#include "read/line_file.hpp"
#include "solve/answer.hpp"

/// The invented lines of the folder lines/, for tests.
namespace airtally::test {

inline line::Line scenario(const std::string& name) {
  return read::read_line(AIRTALLY_SOURCE_DIR "/lines/" + name + ".toml");
}

inline line::Element& element(line::Line& line, const std::string& name) {
  return line.elements.at(line::find(line, name).value());
}

/// Tip vacuum of the first nozzle [Pa].
inline double tip_vacuum(const line::Line& line, solve::TipState state) {
  return solve::steady(line, solve::all_tips(line, state)).tips.front().tip_vacuum();
}

}  // namespace airtally::test
