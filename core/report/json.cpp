#include "report/json.hpp"

#include <cmath>

#include "errors.hpp"
#include "report/json_private.hpp"
#include "report/width.hpp"

namespace airtally::report {

Json json_head(const line::Line& line, std::string_view command) {
  Json json;
  json["format"] = 1;
  json["command"] = command;
  json["line"] = line.title.empty() ? line.file : line.title;
  return json;
}

void put(Json& object, const std::string& key, double value) {
  if (!std::isfinite(value)) throw DomainError("JSON: '" + key + "' is not a finite number.");
  object[key] = value;
}

Json number_or_null(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

void put_or_null(Json& object, const std::string& key, const std::optional<double>& value) {
  object[key] = nullptr;
  if (value) put(object, key, *value);
}

std::string dumped(const Json& json, int indent) {
  // A file's name need not be UTF-8; what is not shows as the replacement sign.
  return escaped(json.dump(indent, ' ', false, Json::error_handler_t::replace)) + '\n';
}

std::string_view word(study::Objective objective) {
  switch (objective) {
    case study::Objective::tip_vacuum:
      return "tip-vacuum";
    case study::Objective::hold:
      return "hold";
    case study::Objective::settle:
      return "settle";
  }
  return "tip-vacuum";
}

}  // namespace airtally::report
