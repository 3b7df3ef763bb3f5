#include "report/json_private.hpp"
#include "report/sweep.hpp"

namespace airtally::report {

std::string sweep_json(const std::vector<std::string>& names, const SweepPoint& point, const std::string& json) {
  Json line;
  for (std::size_t k = 0; k < names.size(); ++k) line["set"][names[k]] = point.values[k];
  if (!point.trouble.empty()) {
    line["trouble"] = point.trouble;
    return dumped(line, -1);
  }
  const Json answer = Json::parse(json);
  for (const auto& [key, value] : answer.items()) line[key] = value;
  return dumped(line, -1);
}

}  // namespace airtally::report
