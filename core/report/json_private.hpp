#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "line/line.hpp"

/// What the JSON of every command shares.
namespace airtally::report {

using Json = nlohmann::ordered_json;

/// {"format": 1, "command": ..., "line": ...}
Json json_head(const line::Line& line, std::string_view command);

/// Sets object[key] to a number. Throws DomainError if it is not finite.
void put(Json& object, const std::string& key, double value);

/// The same, null where there is none.
void put_or_null(Json& object, const std::string& key, const std::optional<double>& value);

/// The number; null for what is none, or never.
Json number_or_null(double value);

/// The text, with a newline at its end; all on one line for an `indent` of -1. Signs that would command a terminal are
/// escapes in it.
std::string dumped(const Json& json, int indent = 2);

}  // namespace airtally::report
