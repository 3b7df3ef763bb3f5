#include "support/well_formed.hpp"

#include <cctype>
#include <set>
#include <vector>

namespace airtally::tests {
namespace {

bool named(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == ':' || c == '_'; }

/// "&amp;" and its like, "&#39;".
bool entity(std::string_view text) {
  const std::size_t end = text.substr(0, 10).find(';');
  return end != std::string_view::npos && end > 1;
}

std::string wrong_in_text(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i)
    if (text[i] == '&' && !entity(text.substr(i))) return "a stray & in: " + std::string(text.substr(0, 60));
  return "";
}

/// The attributes of a tag, between its name and its end.
std::string wrong_in_attributes(std::string_view text) {
  std::set<std::string> seen;
  while (true) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    if (text.empty() || text == "/") return "";
    std::size_t end = 0;
    while (end < text.size() && named(text[end])) ++end;
    const std::string name(text.substr(0, end));
    if (end == 0 || text.substr(end, 2) != "=\"")
      return "an attribute without a quoted value: " + std::string(text.substr(0, 40));
    if (!seen.insert(name).second) return "twice the attribute " + name;
    const std::size_t close = text.find('"', end + 2);
    if (close == std::string_view::npos) return "an attribute without an end: " + name;
    const std::string_view value = text.substr(end + 2, close - end - 2);
    if (value.find('<') != std::string_view::npos) return "a stray < in " + name;
    if (std::string bad = wrong_in_text(value); !bad.empty()) return bad;
    text.remove_prefix(close + 1);
  }
}

}  // namespace

std::string well_formed(std::string_view text) {
  std::vector<std::string> open;
  while (!text.empty()) {
    const std::size_t at = text.find('<');
    if (std::string bad = wrong_in_text(text.substr(0, at)); !bad.empty()) return bad;
    if (at == std::string_view::npos) break;
    const std::size_t end = text.find('>', at);
    if (end == std::string_view::npos) return "a tag without an end";
    std::string_view tag = text.substr(at + 1, end - at - 1);
    text.remove_prefix(end + 1);
    if (tag == "!DOCTYPE html") continue;
    const bool closes = tag.starts_with('/');
    if (closes) tag.remove_prefix(1);
    std::size_t length = 0;
    while (length < tag.size() && named(tag[length])) ++length;
    const std::string name(tag.substr(0, length));
    if (length == 0) return "a tag without a name";
    if (closes) {
      if (open.empty() || open.back() != name)
        return "</" + name + "> closes " + (open.empty() ? "nothing" : open.back());
      open.pop_back();
      continue;
    }
    if (std::string bad = wrong_in_attributes(tag.substr(length)); !bad.empty()) return bad;
    if (tag.ends_with('/')) continue;
    open.push_back(name);
    if (name == "style" || name == "script") {
      const std::size_t over = text.find("</" + name);
      if (over == std::string_view::npos) return "<" + name + "> without an end";
      text.remove_prefix(over);
    }
  }
  return open.empty() ? "" : "<" + open.back() + "> is never closed";
}

}  // namespace airtally::tests
