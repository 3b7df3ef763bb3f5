#pragma once
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "errors.hpp"

/// What the fuzz targets share. A target gets bytes and ends the program, with a sentence, when something is broken.
namespace airtally::fuzz {

inline void demand(bool holds, const std::string& sentence) {
  if (holds) return;
  std::fprintf(stderr, "broken: %s\n", sentence.c_str());
  std::abort();
}

inline std::string_view text(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

/// Something is said, and it is one line.
inline bool one_sentence(std::string_view said) {
  return !said.empty() && said.find('\n') == std::string_view::npos && said.size() < 4000;
}

/// Every complaint of a refused file has a sentence and stands at its place; they come in the order of the file.
inline void demand_order(const BadInput& refusal, const std::string& file) {
  demand(!refusal.complaints().empty(), "a refusal has a complaint");
  int line = 0, column = 0;
  for (const Complaint& c : refusal.complaints()) {
    demand(c.at.file == file, "a complaint names the file: '" + c.at.file + "'");
    demand(!c.sentence.empty() && c.sentence.size() < 4000, "a complaint is a sentence");
    demand(c.at.line > line || (c.at.line == line && c.at.column >= column), "complaints come in the file's order");
    line = c.at.line;
    column = c.at.column;
  }
}

}  // namespace airtally::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);
