#pragma once
#include <string>

#include "errors.hpp"
#include "read/line_file.hpp"

/// What core/read says about a text, shared by the tests of its sentences.
namespace airtally::test {

inline std::string refusal(const std::string& text) {
  try {
    read::read_line_text(text, "l.toml");
  } catch (const BadInput& error) {
    return error.what();
  }
  return "(accepted)";
}

// A tube called hose in lines 2 to 5; `more` stands from line 6 on.
inline std::string tube_with(const std::string& more) {
  return refusal("format = 1\n[[element]]\nname = \"hose\"\nkind = \"tube\"\nlength = \"1 m\"\n" + more + "\n");
}

// One element called x; `keys` stand from line 5 on.
inline std::string element_with(const std::string& kind, const std::string& keys) {
  return refusal("format = 1\n[[element]]\nname = \"x\"\nkind = \"" + kind + "\"\n" + keys + "\n");
}

}  // namespace airtally::test
