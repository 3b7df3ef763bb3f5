#pragma once
#include <string>
#include <string_view>

#include "errors.hpp"
#include "read/toml_private.hpp"

namespace airtally::read {

/// A TOML text as a table whose nodes know their places in `name`. Throws BadInput with one sentence.
toml::table parse_toml(std::string_view text, const std::string& name);

/// What the names of files begin with that are built into the program.
inline constexpr std::string_view built_in = "(built in) ";

/// Where a value or key begins.
Position place(const toml::source_region& region);

}  // namespace airtally::read
