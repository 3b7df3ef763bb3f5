#pragma once
#include <cstddef>
#include <limits>
#include <string>

#include "errors.hpp"
#include "units/parse.hpp"

/// What stands behind an option, as a number.
namespace airtally::cli {

/// What `read` returns. Throws BadInput where it throws a UnitError: the option, what is wrong, and `hint`.
template <typename Read>
auto of_option(const std::string& option, Read read, const std::string& hint = {}) {
  try {
    return read();
  } catch (const units::UnitError& error) {
    throw BadInput(Position{}, option + ": " + error.what() + hint);
  }
}

/// A quantity with its unit. Throws BadInput with the option's name.
units::Quantity quantity(const std::string& text, units::Dimension dimension, const std::string& option);

/// A whole number from `least` to `most`. Throws BadInput with the option's name.
std::size_t whole_number(const std::string& text, const std::string& option, std::size_t least,
                         std::size_t most = std::numeric_limits<std::size_t>::max());

}  // namespace airtally::cli
