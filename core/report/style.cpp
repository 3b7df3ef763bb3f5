#include "report/style.hpp"

namespace airtally::report {

std::string Style::dressed(std::string_view text, std::string_view code) const {
  if (!colour || text.empty()) return std::string(text);
  return "\x1b[" + std::string(code) + 'm' + std::string(text) + "\x1b[0m";
}

std::string Style::bold(std::string_view text) const { return dressed(text, "1"); }
std::string Style::dim(std::string_view text) const { return dressed(text, "2"); }
std::string Style::warning(std::string_view text) const { return dressed(text, "33"); }
std::string Style::marked(std::string_view text) const { return dressed(text, "1;36"); }

}  // namespace airtally::report
