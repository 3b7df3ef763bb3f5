#pragma once
#include "laws/flow.hpp"

/// Guards of the laws' stated ranges. Inline tests and a cold failure, so that they cost next to nothing.
namespace airtally::laws {

/// Throws DomainError with `sentence`.
[[noreturn]] void out_of_range(const char* sentence);

/// Throws DomainError with `sentence` unless `inside`.
inline void require(bool inside, const char* sentence) {
  if (!inside) [[unlikely]]
    out_of_range(sentence);
}

/// Throws DomainError unless both pressures are positive and everything is below 1 GPa (so neither infinite nor NaN).
inline void require_pressures(const Ends& ends) {
  require(ends.p1 > 0.0 && ends.p2 > 0.0 && ends.p1 < 1e9 && ends.p2 < 1e9 && ends.drop > -1e9 && ends.drop < 1e9,
          "A flow law needs positive finite pressures at both ends.");
}

}  // namespace airtally::laws
