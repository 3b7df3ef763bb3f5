#pragma once
#include <cstddef>
#include <vector>

#include "hunt/readings/beside.hpp"

namespace airtally::hunt {

/// Which surprise to tell and what it may lie in, where a step past a fork brings other branches on with its element.
struct InDoubt {
  std::size_t reading = 0;            ///< the one to tell: index into BesideAll::list
  std::vector<std::size_t> elements;  ///< what it may lie in, in line order; never empty
};

/// `worst`: the reading whose surprise is widest, in deviations; `beyond`: as many make a surprise one. Of surprises
/// about as big, one that took fewer elements to bring about is told. What remains is narrowed down to what was on the
/// line in all readings of that instrument that show it and in none that does not, as if one element were at fault;
/// where no single element could have given what was read, it stays as it was.
InDoubt in_doubt(const line::Line& line, const study::Strip& strip, const BesideAll& all, std::size_t worst,
                 double beyond);

}  // namespace airtally::hunt
