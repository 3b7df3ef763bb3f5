#pragma once
#include <string>
#include <string_view>

namespace airtally::cli {

/// `text` as a TOML string between quotes, whatever is in it.
std::string toml_text(std::string_view text);

}  // namespace airtally::cli
